import type { PDFDict } from '../../base/pdf.ts'
import { ImageFault } from './image-samples.ts'
import { asNumbers, look, numberOf } from './objects.ts'
import type { ColorSpace } from './reading.ts'

// What the dictionary of an image says, by long names or by the short ones of images inside a content stream.

/** Pixels across and down. Throws {@link ImageFault}. */
export function sizeOf(dict: PDFDict): { readonly width: number; readonly height: number } {
  const [width, height] = [numberIn(dict, 'Width', 'W'), numberIn(dict, 'Height', 'H')]
  const good = (size: number | undefined): size is number =>
    size !== undefined && Number.isInteger(size) && size > 0 && size < 1 << 24
  if (!good(width) || !good(height)) throw new ImageFault(`has ${width ?? 'no'} × ${height ?? 'no'} pixels`)
  return { width, height }
}

export const numberIn = (dict: PDFDict | undefined, long: string, short: string): number | undefined =>
  numberOf(dict, long) ?? numberOf(dict, short)

/** What codes are spread over, in pairs. */
export function decodeOf(dict: PDFDict, space: ColorSpace, bits: number): readonly number[] {
  const given = asNumbers(look(dict, 'Decode') ?? look(dict, 'D'))
  return given !== undefined && given.length >= 2 * space.components ? given : space.decode(Math.min(8, bits))
}

/** Of a stencil or a soft mask: whether 1 and 0 change places, or what codes are spread over. */
export function maskDecodeOf(dict: PDFDict): readonly [number, number] {
  const given = asNumbers(look(dict, 'Decode') ?? look(dict, 'D'))
  return given !== undefined && given.length >= 2 ? [given[0]!, given[1]!] : [0, 1]
}
