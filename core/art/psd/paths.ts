import type { DocumentPath, OutlinePath } from '../layer.ts'
import type { Cursor } from './cursor.ts'
import type { Resource } from './resources.ts'
import { localText, pascalBytes, unicodeString } from './strings.ts'

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

/**
 * Saved paths of the document and the working path.
 * @param unicode  names of the saved paths in their order; used when there is one for each, since the resources
 *                 themselves hold names of an unstated 8-bit code page
 */
export function readDocumentPaths(
  resources: ReadonlyMap<number, Resource>,
  sheet: SheetMm,
  unicode: readonly string[],
): DocumentPath[] {
  const clip = resources.get(clippingName)?.cursor()
  const clipName = clip && clip.left > clip.peekByte() ? localText(pascalBytes(clip, 2)).text : null
  const isSaved = (id: number): boolean => id >= firstSaved && id <= lastSaved
  const saved = [...resources.values()].filter(r => isSaved(r.id)).sort((a, b) => a.id - b.id)
  const names = unicode.length === saved.length ? unicode : []
  const found = saved.map((resource, i): DocumentPath => {
    const name = names[i] || resource.name || `Path ${resource.id - firstSaved + 1}`
    const clipping = clipName !== null && resource.name === clipName
    return { name, clipping, paths: readOutlines(resource.cursor(), sheet).paths }
  })
  const working = resources.get(workingPath)
  if (working === undefined) return found
  const name = working.name || 'Working path'
  return [...found, { name, clipping: false, paths: readOutlines(working.cursor(), sheet).paths }]
}

/** Key and type of a path's name inside the descriptor that lists the saved paths. */
const nameMark = new TextEncoder().encode('pathUnicodeNameTEXT')

/** Names in the block of path names, in order: each stands right behind its key, whatever surrounds it. */
export function pathNames(block: Cursor): string[] {
  const names: string[] = []
  while (block.left >= nameMark.length + 4) {
    if (!block.startsWith(nameMark)) {
      block.skip(1)
      continue
    }
    block.skip(nameMark.length)
    if (block.left < 4 + 2 * block.peekU32()) break
    names.push(unicodeString(block))
  }
  return names
}
