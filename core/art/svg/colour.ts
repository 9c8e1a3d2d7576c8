import { colourNames } from './colour-names.ts'

/** Red, green, blue and opacity, 0..1. */
export type Rgba = readonly [red: number, green: number, blue: number, alpha: number]

const unit = (value: number): number => Math.min(1, Math.max(0, value))

/** A number or a percentage of `whole`; NaN where it is neither. */
const part = (text: string | undefined, whole: number): number =>
  text === undefined ? Number.NaN : text.endsWith('%') ? Number.parseFloat(text) / 100 : Number(text) / whole

/**
 * A colour of CSS Color 4: hex, names, rgb, hsl; `device-cmyk` as that module's plain conversion has it; of SVG 1.1's
 * `icc-color` the display colour that stands before it.
 * @returns null when it is no colour
 */
export function colourOf(text: string, current: Rgba): Rgba | null {
  const plain = text.trim().toLowerCase()
  if (plain === 'currentcolor') return current
  if (plain === 'transparent') return [0, 0, 0, 0]
  const word = /^[a-z]+/.exec(plain)?.[0]
  const hex = plain.startsWith('#') ? /^#[0-9a-f]+/.exec(plain)?.[0] : word && colourNames.get(word)
  if (hex && !/^[a-z-]+\(/.test(plain)) return hexColour(hex)
  const [, name, list] = /^([a-z-]+)\(([^()]*)\)/.exec(plain) ?? []
  if (list === undefined) return null
  const parts = list.split(/[\s,/]+/).filter(Boolean)
  const colour = ofFunction(name!, parts)
  return colour === null || colour.some(Number.isNaN) ? null : (colour.map(unit) as unknown as Rgba)
}

function hexColour(hex: string): Rgba | null {
  const digits = hex.length <= 5 ? [...hex.slice(1)].map(one => one + one).join('') : hex.slice(1)
  if (digits.length !== 6 && digits.length !== 8) return null
  const byte = (i: number) => Number.parseInt(digits.slice(2 * i, 2 * i + 2) || 'ff', 16) / 255
  return [byte(0), byte(1), byte(2), byte(3)]
}

function ofFunction(name: string, parts: readonly string[]): readonly number[] | null {
  const alpha = (at: number) => (parts[at] === undefined ? 1 : part(parts[at], 1))
  switch (name) {
    case 'rgb':
    case 'rgba':
      return parts.length < 3
        ? null
        : [part(parts[0], 255), part(parts[1], 255), part(parts[2], 255), alpha(3)]
    case 'hsl':
    case 'hsla': {
      const hue = Number.parseFloat(parts[0] ?? '')
      const [s, l] = [part(parts[1], 100), part(parts[2], 100)].map(unit) as [number, number]
      // CSS Color 4, section 7.1.
      const f = (n: number) => {
        const k = (((n + hue / 30) % 12) + 12) % 12
        return l - s * Math.min(l, 1 - l) * Math.max(-1, Math.min(k - 3, 9 - k, 1))
      }
      return [f(0), f(8), f(4), alpha(3)]
    }
    case 'device-cmyk': {
      const [c, m, y, k] = [0, 1, 2, 3].map(i => part(parts[i], 1)) as [number, number, number, number]
      return [c, m, y].map(ink => 1 - Math.min(1, ink * (1 - k) + k)).concat(alpha(4))
    }
    default:
      return null
  }
}

/** Relative luminance as masks take it. Source: SVG 2 / CSS Masking 1, luminance coefficients of linear sRGB's primaries. */
export const luminance = ([red, green, blue]: Rgba): number => 0.2125 * red + 0.7154 * green + 0.0721 * blue
