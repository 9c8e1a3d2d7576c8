import { displayProfile, profileNames } from '../../color/icc-write.ts'
import { apply } from '../../color/matrix.ts'
import { type Gamut, rgbPrimaries, rgbSpaces } from '../../color/rgb.ts'
import { chromaticity, whiteDisplay } from '../../color/xyz.ts'
import { sceneWhite } from '../../reference/baking.ts'
import { displayPicture, surroundCode } from '../../reference/display-picture.ts'
import { type Scene, totalLux } from '../../reference/scene.ts'
import { whiteLuminanceUnder, writeExr } from '../exr.ts'
import { writeProfiledPng } from '../png-profile.ts'
import { writeTiff } from '../tiff.ts'
import type { Canvas } from './lettering.ts'
import { type StillFormat, stillPpi } from './wish.ts'

/** What a file of a still says beside its pixels. */
export interface StillWords {
  readonly description: string
  /** Name and version of the program. */
  readonly software: string
}

export const fileEnding = ({ kind }: StillFormat): string => (kind === 'tiff' ? 'tif' : kind)

/** Rendered light as samples of a format: X, Y, Z, met a pixel become RGB of the screen, or linear RGBA. */
export function samplesOf(
  light: Float32Array,
  scene: Pick<Scene, 'light' | 'view'>,
  { width, height }: Pick<Canvas, 'width' | 'height'>,
  format: StillFormat,
): Canvas {
  switch (format.kind) {
    case 'png':
    case 'tiff':
      return { width, height, channels: 3, data: displayPicture(light, scene, format.depth) }
    case 'exr':
      return { width, height, channels: 4, data: linear(light, scene.view.gamut) }
  }
}

/** RGB by the primaries of a screen, in units of perfect white under all lamps, multiplied by how much of the pixel is met. Nothing is adapted or clipped: colours beyond the primaries have values below 0. */
function linear(light: Float32Array, gamut: Gamut): Float32Array {
  const { fromXyz } = rgbSpaces[gamut]
  const out = new Float32Array(light.length)
  for (let i = 0; i < light.length; i += 4) {
    const met = light[i + 3]!
    if (met === 0) continue
    const rgb = apply(fromXyz, [light[i]!, light[i + 1]!, light[i + 2]!])
    for (let c = 0; c < 3; c++) out[i + c] = met * rgb[c]!
    out[i + 3] = met
  }
  return out
}

/** An empty picture of a format, and the ink that is read on it. */
export function blankSheet(
  width: number,
  height: number,
  format: StillFormat,
): { readonly canvas: Canvas; readonly ink: readonly number[] } {
  const count = width * height
  switch (format.kind) {
    case 'png':
    case 'tiff': {
      const top = format.depth === 8 ? 255 : 65535
      const data = format.depth === 8 ? new Uint8Array(3 * count) : new Uint16Array(3 * count)
      return {
        canvas: { width, height, channels: 3, data: data.fill(Math.round(surroundCode * top)) },
        ink: [top, top, top],
      }
    }
    case 'exr':
      return {
        canvas: { width, height, channels: 4, data: new Float32Array(4 * count) },
        ink: [1, 1, 1, 1],
      }
  }
}

/** The file of samples that {@link samplesOf} or {@link blankSheet} gave. @param scene whose lamps and screen they are of */
export function stillFile(
  { width, height, data }: Canvas,
  scene: Pick<Scene, 'light' | 'view'>,
  format: StillFormat,
  { description, software }: StillWords,
): Uint8Array<ArrayBuffer> {
  const { gamut } = scene.view
  const pixelsPerMm = stillPpi / 25.4
  switch (format.kind) {
    case 'png':
      return writeProfiledPng(
        { width, height, channels: 3, data: screenSamples(data) },
        profileNames[gamut],
        displayProfile(gamut),
        pixelsPerMm,
      )
    case 'tiff': {
      const samples = screenSamples(data)
      return writeTiff(
        {
          ...{ width, height, depth: format.depth, pixelsPerMm, description, software },
          color: { kind: 'rgb' },
          icc: displayProfile(gamut),
          packed: 'deflate',
        },
        (top, bottom) => samples.subarray(3 * top * width, 3 * bottom * width),
      )
    }
    case 'exr': {
      if (!(data instanceof Float32Array)) throw new TypeError('EXR: expected linear samples')
      const white = whiteDisplay
      return writeExr({
        ...{ width, height, rgba: data },
        samples: format.depth === 16 ? 'half' : 'float',
        chromaticities: [...rgbPrimaries[gamut], chromaticity(white)],
        whiteLuminance: whiteLuminanceUnder(totalLux(scene.light)),
        adoptedNeutral: chromaticity(sceneWhite(scene)),
        comments: `${description}\n${software}. Linear light; 1 is perfect white under all lamps. Primaries of ${profileNames[gamut]}; values below 0 are colours beyond them.`,
      })
    }
  }
}

function screenSamples(data: Canvas['data']): Uint8Array | Uint16Array {
  if (data instanceof Float32Array) throw new TypeError('expected samples of a screen')
  return data
}
