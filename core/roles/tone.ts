import type { Surface } from '../art/composite.ts'
import type { Art } from '../art/layer.ts'
import { type Lab, labToXyz } from '../color/lab.ts'
import { apply } from '../color/matrix.ts'
import { encode, rgbSpaces } from '../color/rgb.ts'
import { whiteDisplay } from '../color/xyz.ts'

/** A colour as a designer reads it off: the numbers of the file, not the light of a print. */
export interface Tone {
  /** 0..1, by the weights of Rec. 709 on red, green and blue as coded. */
  lightness: number
  /** Turns: 0 red, 1/6 yellow, 1/3 green, 1/2 cyan, 2/3 blue, 5/6 magenta; 0 where chroma is 0. */
  hue: number
  /** Largest less smallest of red, green and blue, 0..1. */
  chroma: number
}

export type Rgb = [number, number, number]

/** Reads the colour of pixel `i` of a surface as coded red, green, blue 0..1, by the file's mode; returns `out`. */
export type RgbReader = (surface: Surface, i: number, out: Rgb) => Rgb

/**
 * Red, green, blue of each colour mode, plain and without a profile: CMYK as (1 − C)(1 − K) and so on, which puts the
 * pure inks at the hues that a designer calls them by; Lab (the file's D50 numbers) through sRGB, clipped.
 */
export function rgbReader(art: Art): RgbReader {
  switch (art.colorMode) {
    case 'CMYK':
      // By index: taking a list apart costs a pixel several times its arithmetic.
      return ({ planes }, i, out) => {
        const k = planes[3]![i]!
        return set(out, planes[0]![i]! * k, planes[1]![i]! * k, planes[2]![i]! * k)
      }
    case 'RGB':
      return ({ planes }, i, out) => set(out, planes[0]![i]!, planes[1]![i]!, planes[2]![i]!)
    case 'Lab':
      return ({ planes }, i, out) =>
        labToRgb([planes[0]![i]! * 100, planes[1]![i]! * 255 - 128, planes[2]![i]! * 255 - 128], out)
    case 'Indexed': {
      const palette = art.palette
      if (!palette) return grey
      return ({ planes }, i, out) => {
        const entry = Math.round(planes[0]![i]! * 255)
        return set(out, palette[entry]! / 255, palette[256 + entry]! / 255, palette[512 + entry]! / 255)
      }
    }
    case 'Bitmap':
    case 'Grayscale':
    case 'Duotone':
      return grey
    case 'Multichannel':
      // Such a file has channels only, which are read as planes.
      return (_surface, _i, out) => set(out, 1, 1, 1)
  }
}

const grey: RgbReader = ({ planes }, i, out) => {
  const v = planes[0]![i]!
  return set(out, v, v, v)
}

function set(out: Rgb, r: number, g: number, b: number): Rgb {
  out[0] = r
  out[1] = g
  out[2] = b
  return out
}

function labToRgb(lab: Lab, out: Rgb): Rgb {
  // Lab is relative to its white, so taking the display's white for it needs no adaptation.
  const [r, g, b] = apply(rgbSpaces.srgb.fromXyz, labToXyz(lab, whiteDisplay))
  return set(out, ...([r, g, b].map(v => Math.min(1, Math.max(0, encode(v)))) as Rgb))
}

/** Hue, chroma and lightness of coded red, green, blue 0..1; returns `out`. */
export function toneOf([r, g, b]: Readonly<Rgb>, out: Tone): Tone {
  const most = Math.max(r, g, b)
  const chroma = most - Math.min(r, g, b)
  out.lightness = lightnessOf(r, g, b)
  out.chroma = chroma
  if (chroma === 0) out.hue = 0
  else if (most === r) out.hue = (((g - b) / chroma + 6) % 6) / 6
  else if (most === g) out.hue = ((b - r) / chroma + 2) / 6
  else out.hue = ((r - g) / chroma + 4) / 6
  return out
}

export function lightnessOf(r: number, g: number, b: number): number {
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}
