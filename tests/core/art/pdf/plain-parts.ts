import type { Ink, InkField } from '../../../../core/art/ink/mark.ts'
import { openPdf } from '../../../../core/art/pdf/document.ts'
import { asName, asNumber, items } from '../../../../core/art/pdf/objects.ts'
import { type BegunReading, type PageParts, readPage } from '../../../../core/art/pdf/page.ts'
import type { ColorSpace, InkSet, OpenColorSpace, Reading } from '../../../../core/art/pdf/reading.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { PDFArray } from '../../../../core/base/pdf.ts'
import type { Task } from '../../../../core/base/task.ts'
import { type SmallPdf, smallSource } from './small-pdf.ts'

// Colours of inks alone, so that tests of the interpreter see what it does and nothing of how colours are made.

export function plainInks(): InkSet {
  const list: Ink[] = []
  const numberOf = (name: string) => {
    const at = list.findIndex(ink => ink.name === name)
    if (at >= 0) return at
    list.push({ name, alternate: null, solidity: null, order: null })
    return list.length - 1
  }
  for (const name of ['Cyan', 'Magenta', 'Yellow', 'Black']) numberOf(name)
  return { list, numberOf }
}

const space = (
  family: ColorSpace['family'],
  inks: readonly number[],
  initial: readonly number[],
  tints: ColorSpace['tints'],
): ColorSpace =>
  ({
    family,
    components: initial.length,
    initial,
    inks,
    tints,
    decode: () => [],
    under: null,
  }) as unknown as ColorSpace

export const plainSpaces: OpenColorSpace = (reading, object, resources) => {
  const [first, second, third] = object instanceof PDFArray ? items(object) : [object]
  const family = asName(first)
  const dark = (light: (v: ArrayLike<number>) => number) => space('other', [0], [0], v => [1 - light(v)])
  if (reading.aim === 'luminosity' && family === 'DeviceGray') return dark(v => v[0] ?? 0)
  switch (family) {
    case 'DeviceGray':
      return space('other', [0, 1, 2, 3], [0], v => [0, 0, 0, 1 - (v[0] ?? 0)])
    case 'DeviceCMYK':
      return space('DeviceCMYK', [0, 1, 2, 3], [0, 0, 0, 1], v => Array.from(v))
    case 'Separation': {
      const name = asName(second) ?? ''
      if (name === 'All')
        return space(
          'other',
          reading.inks.list.map((_, at) => at),
          [1],
          v => reading.inks.list.map(() => v[0] ?? 0),
        )
      const inks = name === 'None' ? [] : [reading.inks.numberOf(name, () => null)]
      return space('other', inks, [1], v => (inks.length === 0 ? [] : [v[0] ?? 0]))
    }
    case 'Pattern': {
      const under = second === undefined ? null : plainSpaces(reading, second, resources)
      return { ...space('Pattern', [], [], () => []), under }
    }
    default:
      throw new BadInput(
        'colour-space-unknown',
        reading.file,
        `${family}`,
        `is none (${asNumber(third)})`,
        'Mend it.',
      )
  }
}

const even = (inks: readonly number[], value: number): InkField => ({
  inks,
  row: (_x, _y, _step, count, out, shape) => {
    shape.fill(1, 0, count)
    for (const plane of out) plane.fill(value, 0, count)
  },
})

export const plainParts: PageParts = {
  colorSpace: plainSpaces,
  shading: () => ({ field: even([0], 0.5), box: null }),
  image: async (_reading, _image, _matrix, _resources, paint) =>
    even(paint.inks.length > 0 ? paint.inks : [3], 0.25),
  transfer: () => value => 1 - value,
  inkSet: plainInks,
  reading: (begun: BegunReading) => begun as Reading,
  contentFont: () => null,
  fonts: async () => new Map(),
}

/** The page of a small file, read by them. */
export async function readSmall(pdf: SmallPdf, parts: PageParts = plainParts, task?: Task) {
  const file = await openPdf(smallSource(pdf), null)
  return readPage(file, 1, parts, task)
}

export const white = '/White [/Separation /White /DeviceCMYK 99 0 R]'
