import type { DocumentPath, OutlinePath } from '../layer.ts'
import type { Cursor } from './cursor.ts'
import type { Resource } from './resources.ts'
import { localText, pascalBytes } from './strings.ts'

/** Size of the document, mm: path numbers are fractions of it. */
export interface SheetMm {
  readonly width: number
  readonly height: number
}

type Knot = OutlinePath['knots'][number]
const recordBytes = 26
const combines = ['exclude', 'unite', 'subtract', 'intersect'] as const

/**
 * Path records (26 bytes each) → outlines in mm from the document's lower left corner, y up.
 * Records of other kinds are passed over.
 */
export function readOutlines(
  section: Cursor,
  sheet: SheetMm,
): { readonly paths: OutlinePath[]; readonly startsFull: boolean } {
  const paths: OutlinePath[] = []
  let startsFull = false
  let knots: Knot[] | null = null
  while (section.left >= recordBytes) {
    const record = section.section(recordBytes)
    const selector = record.u16()
    switch (selector) {
      case 0:
      case 3: {
        record.skip(2)
        const code = record.i16()
        const before = paths.at(-1)
        const continues = code < 0 && before !== undefined
        const combine = continues ? before.combine : (combines[code] ?? 'unite')
        knots = []
        paths.push({ closed: selector === 0, continues, combine, knots })
        break
      }
      case 1:
      case 2:
      case 4:
      case 5:
        knots?.push({ in: point(record, sheet), at: point(record, sheet), out: point(record, sheet) })
        break
      case 8:
        startsFull = record.u16() !== 0
        break
    }
  }
  return { paths, startsFull }
}

/** Signed 8.24 fixed point; the vertical number comes first and grows downwards. */
function point(record: Cursor, sheet: SheetMm): [number, number] {
  const y = record.i32() / 2 ** 24
  const x = record.i32() / 2 ** 24
  return [x * sheet.width, (1 - y) * sheet.height]
}

const workingPath = 1025
const firstSaved = 2000
const lastSaved = 2997
const clippingName = 2999

/** Saved paths of the document and the working path. */
export function readDocumentPaths(resources: ReadonlyMap<number, Resource>, sheet: SheetMm): DocumentPath[] {
  const clip = resources.get(clippingName)?.cursor()
  const clipName = clip && clip.left > clip.peekByte() ? localText(pascalBytes(clip, 2)).text : null
  const found: DocumentPath[] = []
  for (const resource of resources.values()) {
    const saved = resource.id >= firstSaved && resource.id <= lastSaved
    if (!saved && resource.id !== workingPath) continue
    const name = resource.name || (saved ? `Path ${resource.id - firstSaved + 1}` : 'Working path')
    const { paths } = readOutlines(resource.cursor(), sheet)
    found.push({ name, clipping: saved && name === clipName, paths })
  }
  return found
}
