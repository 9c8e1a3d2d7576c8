import { PDFArray, type PDFDict, type PDFObject } from '../../base/pdf.ts'
import type { InkColor } from '../layer.ts'
import { badSpace, makeSpace, tellOnce } from './color-kit.ts'
import { openFunction, type PdfFunction } from './function.ts'
import { asName, dictOf } from './objects.ts'
import type { ColorSpace, Reading } from './reading.ts'

// What stands for inks where a device lacks them. Source: ISO 32000-2, 8.6.6.4 and 8.6.6.5.

export type Open = (space: PDFObject) => ColorSpace

/** What an ink of several looks like alone, where the file has it as a space of its own. */
export function colorantOf(
  attributes: PDFDict | undefined,
  name: string,
  open: Open,
  reading: Reading,
): InkColor | null {
  const colorants = dictOf(attributes, 'Colorants')
  const own = colorants?.entries().find(([key]) => asName(key) === name)
  const space = own === undefined ? undefined : reading.context.lookup(own[1])
  if (!(space instanceof PDFArray) || asName(space.lookup(0)) !== 'Separation') return null
  return alternateOf(reading, space, 1, 0, `ink "${name}"`, open)
}

/** What stands for the solid of one of a space's inks; null, and told, where that cannot be read. */
export function alternateOf(
  reading: Reading,
  space: PDFArray,
  count: number,
  which: number,
  where: string,
  open: Open,
): InkColor | null {
  try {
    const { tint, alternate } = transformOf(reading, space, count, where, open)
    const solid = Array.from({ length: count }, (_, i) => (i === which ? 1 : 0))
    const values = tint.run(solid, new Float64Array(tint.outputs))
    const color = alternate.inkColor(Array.from(values.subarray(0, alternate.components)))
    return color.space === 'other' ? null : color
  } catch (error) {
    tellOnce(reading, {
      severity: 'warning',
      code: 'pdf-ink-alternate',
      where,
      message: `What stands for it on a screen cannot be read (${error instanceof Error ? error.message : 'damaged'}).`,
      fix: 'Choose its colour by hand, or save the file again',
    })
    return null
  }
}

/** Tint transform and alternate space. Throws BadInput. */
export function transformOf(reading: Reading, space: PDFArray, count: number, where: string, open: Open) {
  const given = space.lookup(2)
  if (given === undefined) throw badSpace(reading, where, 'it has no alternate colour space')
  const alternate = open(given)
  const tint: PdfFunction = openFunction(space.lookup(3), reading.file, where)
  if (tint.inputs !== count || tint.outputs < alternate.components)
    throw badSpace(
      reading,
      where,
      `its tint transform makes ${tint.outputs} numbers of ${tint.inputs}, not ${alternate.components} of ${count}`,
    )
  return { tint, alternate }
}

/** A mask's lightness is that of the alternate colour. */
export function throughAlternate(
  reading: Reading,
  space: PDFArray,
  count: number,
  where: string,
  open: Open,
): ColorSpace {
  const { tint, alternate } = transformOf(reading, space, count, where, open)
  const n = alternate.components
  const made = new Float64Array(tint.outputs)
  return makeSpace({
    components: count,
    initial: Array.from({ length: count }, () => 1),
    inks: alternate.inks,
    manyTints: values => {
      const colors = new Float32Array((values.length / count) * n)
      for (let i = 0; i < values.length / count; i++) {
        tint.run(values.subarray(i * count, (i + 1) * count), made)
        for (let k = 0; k < n; k++) colors[i * n + k] = made[k]!
      }
      return alternate.manyTints(colors)
    },
    inkColor: () => ({ space: 'other', values: [] }),
  })
}
