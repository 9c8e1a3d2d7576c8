import type { Cursor } from './cursor.ts'

/** Keys whose length has 64 bits in PSB files (format description; `cinf` seen in files). */
const wideKeys = new Set([
  'LMsk',
  'Lr16',
  'Lr32',
  'Layr',
  'Mt16',
  'Mt32',
  'Mtrn',
  'Alph',
  'FMsk',
  'lnk2',
  'FEid',
  'FXid',
  'PxSD',
  'cinf',
])
const signatures = new Set(['8BIM', '8B64'])

export const blockSignature = (tag: string): boolean => signatures.has(tag)

/** Whether the length behind the key has 64 bits. */
export function wideLength(signature: string, key: string, large: boolean): boolean {
  return signature === '8B64' || (large && wideKeys.has(key))
}

/** Blocks of a layer record by key, the first where one comes twice; `rest` is what could not be read as blocks. */
export function readBlocks(
  section: Cursor,
  large: boolean,
): { readonly blocks: ReadonlyMap<string, Cursor>; readonly rest: number } {
  const blocks = new Map<string, Cursor>()
  while (section.left >= 12) {
    // Some writers pad a block to 2 or 4 bytes without counting it in, so the next one may begin up to 3 bytes on.
    let pad = 0
    while (pad < 4 && !signatures.has(section.peekTag(pad))) pad++
    if (pad === 4) break
    section.skip(pad)
    if (section.left < 12) break
    const signature = section.tag()
    const key = section.tag()
    const wide = wideLength(signature, key, large)
    if (section.left < (wide ? 8 : 4)) break
    const length = section.length(wide)
    if (length > section.left) return { blocks, rest: section.left }
    const block = section.section(length)
    if (!blocks.has(key)) blocks.set(key, block)
  }
  return { blocks, rest: section.left >= 12 ? section.left : 0 }
}
