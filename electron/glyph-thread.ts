import type { ReadGlyphs, ReadStrings } from '../core/base/glyph-reader.ts'
import { workerFile } from './places.ts'
import { WorkerPool } from './worker-pool.ts'

export type GlyphCrafts = {
  read: { input: { pdf: Uint8Array }; value: readonly ReadStrings[] }
}

/** What reading fonts may take. A page full of type takes a second and 100 MB. */
const usual = { ms: 20_000, heapMb: 768 } as const

/**
 * Reads glyphs in a thread of its own: a font can be made so that its outlines double without end, and only a thread can
 * be stopped then. One reading at a time; the promise rejects where one takes too long or too much.
 */
export function glyphThread(limits: { readonly ms: number; readonly heapMb: number } = usual): ReadGlyphs {
  let pool: WorkerPool<GlyphCrafts> | null = null
  let last: Promise<unknown> = Promise.resolve()
  const read = async (pdf: Uint8Array): Promise<readonly ReadStrings[]> => {
    pool ??= new WorkerPool<GlyphCrafts>(workerFile('glyphs'), 1, undefined, limits.heapMb)
    const mine = pool
    let timer: NodeJS.Timeout | undefined
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => {
        reject(new Error(`fonts took more than ${limits.ms} ms`))
        pool = null
        void mine.close()
      }, limits.ms)
    })
    try {
      return await Promise.race([mine.run('read', { pdf }), late])
    } finally {
      clearTimeout(timer)
    }
  }
  return pdf => {
    const next = last.then(() => read(pdf))
    last = next.catch(() => undefined)
    return next
  }
}
