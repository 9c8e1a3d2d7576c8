import type { Box, PixelMask } from '../layer.ts'
import type { Cursor } from './cursor.ts'
import { outlineKeys } from './keys.ts'

/** One rectangle with its default sample and flags. */
interface MaskPart {
  readonly box: Box
  readonly outside: number
  readonly disabled: boolean
  readonly inverted: boolean
  /** Made from the layer's vector mask. */
  readonly rendered: boolean
}

export interface MaskData {
  /** Samples in channel -2: the user's mask, or a picture of the vector mask (and of both where `real` is there). */
  readonly main: MaskPart
  /** The user's own mask, samples in channel -3, when the layer has a vector mask as well. */
  readonly real: MaskPart | null
  readonly density: number
  readonly feather: number
  readonly vectorDensity: number
  readonly vectorFeather: number
}

/**
 * The mask section of a layer record. The second rectangle comes before the parameters, which is what files hold,
 * though the published description has it the other way round.
 */
export function readMask(section: Cursor): MaskData | null {
  if (section.left < 18) return null
  const box = readBox(section)
  const outside = section.u8()
  const flags = section.u8()
  let real: MaskPart | null = null
  if (section.left >= 18) {
    const realFlags = section.u8()
    const realOutside = section.u8()
    real = part(readBox(section), realOutside, realFlags)
  }
  let density = 1
  let feather = 0
  let vectorDensity = 1
  let vectorFeather = 0
  if (flags & 16 && section.left >= 1) {
    const has = section.u8()
    if (has & 1 && section.left >= 1) density = section.u8() / 255
    if (has & 2 && section.left >= 8) feather = radius(section.f64())
    if (has & 4 && section.left >= 1) vectorDensity = section.u8() / 255
    if (has & 8 && section.left >= 8) vectorFeather = radius(section.f64())
  }
  return { main: part(box, outside, flags), real, density, feather, vectorDensity, vectorFeather }
}

export function readBox(section: Cursor): Box {
  const top = section.i32()
  const left = section.i32()
  const bottom = section.i32()
  const right = section.i32()
  return { left, top, right, bottom }
}

/** Which channel holds the user's mask, and the mask; null when the only mask is a picture of the vector mask. */
export function userMask(record: {
  readonly mask: MaskData | null
  readonly keys: ReadonlySet<string>
}): { readonly channel: -2 | -3; readonly mask: PixelMask } | null {
  const data = record.mask
  if (data === null) return null
  const from = data.real ?? data.main
  // The mark is kept by some writers on layers whose vector mask is gone; then the mask is all there is.
  if (data.real === null && data.main.rendered && outlineKeys.some(key => record.keys.has(key))) return null
  const { box, outside, disabled, inverted } = from
  return {
    channel: data.real ? -3 : -2,
    mask: { box, outside, disabled, inverted, density: data.density, feather: data.feather },
  }
}

function part(box: Box, outside: number, flags: number): MaskPart {
  return {
    box,
    outside,
    disabled: (flags & 2) !== 0,
    inverted: (flags & 4) !== 0,
    rendered: (flags & 8) !== 0,
  }
}

const radius = (pixels: number): number => (Number.isFinite(pixels) && pixels > 0 ? pixels : 0)
