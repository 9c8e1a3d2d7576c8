import type { BlendMode } from './blend.ts'

/**
 * Blend functions of a whole RGB colour, components in [0, 1].
 * Source: ISO 32000-2:2020, 11.3.5.3, equally W3C Compositing and Blending Level 1, section 9.2;
 * darker and lighter color (the colour with the lower or higher luminosity) from memory.
 */
export type ColorBlend = (
  b: readonly [number, number, number],
  s: readonly [number, number, number],
  out: Rgb,
) => Rgb
export type Rgb = [number, number, number]

const luminosity = (c: readonly [number, number, number]): number => 0.3 * c[0] + 0.59 * c[1] + 0.11 * c[2]
const saturation = (c: readonly [number, number, number]): number =>
  Math.max(c[0], c[1], c[2]) - Math.min(c[0], c[1], c[2])

export const whole = {
  hue: (b, s, out) => withLuminosity(withSaturation(copy(s, out), saturation(b)), luminosity(b)),
  saturation: (b, s, out) => withLuminosity(withSaturation(copy(b, out), saturation(s)), luminosity(b)),
  color: (b, s, out) => withLuminosity(copy(s, out), luminosity(b)),
  luminosity: (b, s, out) => withLuminosity(copy(b, out), luminosity(s)),
  darkerColor: (b, s, out) => copy(luminosity(s) < luminosity(b) ? s : b, out),
  lighterColor: (b, s, out) => copy(luminosity(s) > luminosity(b) ? s : b, out),
} as const satisfies Partial<Record<BlendMode, ColorBlend>>

/** The whole-colour function of a mode, or null. */
export function colorBlend(mode: BlendMode): ColorBlend | null {
  return mode in whole ? whole[mode as keyof typeof whole] : null
}

/**
 * Black of a CMYK result: the backdrop's for hue, saturation and color, the source's for luminosity (ISO 32000-2,
 * 11.3.5.3); the two comparing modes take the whole colour that won.
 */
export function blackFromSource(mode: BlendMode, b: Rgb, s: Rgb): boolean {
  switch (mode) {
    case 'luminosity':
      return true
    case 'darkerColor':
      return luminosity(s) < luminosity(b)
    case 'lighterColor':
      return luminosity(s) > luminosity(b)
    default:
      return false
  }
}

function copy(from: readonly [number, number, number], out: Rgb): Rgb {
  out[0] = from[0]
  out[1] = from[1]
  out[2] = from[2]
  return out
}

function withLuminosity(c: Rgb, target: number): Rgb {
  const d = target - luminosity(c)
  c[0] += d
  c[1] += d
  c[2] += d
  const l = luminosity(c)
  const low = Math.min(c[0], c[1], c[2])
  const high = Math.max(c[0], c[1], c[2])
  if (low < 0) scale(c, l, l / (l - low))
  if (high > 1) scale(c, l, (1 - l) / (high - l))
  return c
}

function scale(c: Rgb, l: number, k: number): void {
  c[0] = l + (c[0] - l) * k
  c[1] = l + (c[1] - l) * k
  c[2] = l + (c[2] - l) * k
}

function withSaturation(c: Rgb, s: number): Rgb {
  const low = Math.min(c[0], c[1], c[2])
  const range = Math.max(c[0], c[1], c[2]) - low
  // A range below any sample step would overflow the division.
  const k = range > 1e-9 ? s / range : 0
  c[0] = (c[0] - low) * k
  c[1] = (c[1] - low) * k
  c[2] = (c[2] - low) * k
  return c
}
