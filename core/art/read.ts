import { BadInput } from '../base/finding.ts'
import type { ByteSource } from '../base/source.ts'
import { partOf, type Task } from '../base/task.ts'
import type { ArtFile } from './layer.ts'
import { openPsd } from './psd.ts'
import type { ReadOptions } from './read-options.ts'

export type { ReadOptions } from './read-options.ts'

const defaultBudget = 4 * 2 ** 30

/**
 * Opens art: what the file is, is told by its first bytes and never by its name. Pixels are decoded, and what is drawn is
 * painted, when they are asked for; the source must stay open until then.
 * @throws BadInput with file, place and remedy when the file cannot be used
 * @throws Cancelled when the task is told to stop
 */
export async function readArt(source: ByteSource, options: ReadOptions = {}, task?: Task): Promise<ArtFile> {
  try {
    const { beside = [], ...first } = options
    if (beside.length === 0) return await openOne(source, first, task)
    const { openTogether } = await import('./together.ts')
    const { page: _, ...others } = first
    const all = [source, ...beside]
    const parts = await Promise.all(
      all.map(async (one, i) => {
        const own = partOf(task, i / all.length, (i + 1) / all.length)
        // The page is chosen of the first; of the others it is theirs.
        const how = i === 0 ? first : others
        return {
          source: one,
          isDrawn: ['PDF', 'SVG'].includes(await kindOf(one)),
          open: (ppi?: number) => openOne(one, ppi === undefined ? how : { ...how, ppi }, own),
        }
      }),
    )
    return await openTogether(parts, first.shipped)
  } catch (error) {
    // Sizes were checked, so an array that cannot be had is the machine's lack and not the file's fault.
    if (error instanceof RangeError && /allocation/i.test(error.message))
      throw new BadInput(
        'out-of-memory',
        source.name,
        'whole file',
        'there is not enough memory to open it',
        'Close other programs and try again.',
      )
    throw error
  }
}

/** Opens one file. Readers are asked for when they are needed: a program that opens one kind need not hold the others. */
async function openOne(source: ByteSource, options: ReadOptions, task?: Task): Promise<ArtFile> {
  const memoryBudget = options.memoryBudget ?? defaultBudget
  const kind = await kindOf(source)
  switch (kind) {
    case 'PDF': {
      const { openPdfArt } = await import('./pdf-art.ts')
      if (options.shipped === undefined)
        throw new Error('readArt: a PDF is read by what lies with the program')
      return openPdfArt(source, options, options.shipped, task)
    }
    case 'TIFF': {
      const { openTiff } = await import('./tiff.ts')
      const page = options.page === undefined ? {} : { page: options.page }
      return openTiff(source, { memoryBudget, codec: options.shipped?.codec, ...page }, task)
    }
    case 'PNG': {
      const { openPng } = await import('./png.ts')
      return openPng(source, { memoryBudget }, task)
    }
    case 'JPEG': {
      const { openJpeg } = await import('./jpeg.ts')
      return openJpeg(source, { memoryBudget }, task)
    }
    case 'SVG': {
      const { openSvgArt } = await import('./svg-art.ts')
      return openSvgArt(source, options, task)
    }
    case 'PostScript':
    case 'archive':
      throw new BadInput(
        'not-art',
        source.name,
        'byte 0',
        `this is ${kind === 'archive' ? 'an archive' : kind}, which is not read as art`,
        'Export the art as PDF or TIFF, or as a layered PSD or PSB.',
      )
    case 'PSD':
      return openPsd(source, memoryBudget, task)
  }
}

type Kind = 'PSD' | 'PDF' | 'SVG' | 'TIFF' | 'PNG' | 'JPEG' | 'PostScript' | 'archive'

/** First bytes of files. Whatever is none of them is left to the reader of layered files, which says what is wrong. */
const marks: readonly (readonly [start: string, kind: Kind])[] = [
  ['8BPS', 'PSD'],
  ['%!PS', 'PostScript'],
  ['\x89PNG', 'PNG'],
  ['\xff\xd8\xff', 'JPEG'],
  ['II*\0', 'TIFF'],
  ['MM\0*', 'TIFF'],
  ['II+\0', 'TIFF'],
  ['MM\0+', 'TIFF'],
  ['PK\x03\x04', 'archive'],
]

/** A PDF may begin within the first so many bytes (ISO 32000-1, implementation note 13 of its readers). */
const pdfWithin = 1024

async function kindOf(source: ByteSource): Promise<Kind> {
  const start = await source.read(0, Math.min(source.size, pdfWithin)).catch(() => null)
  if (start === null) return 'PSD'
  const text = String.fromCharCode(...start)
  const found = marks.find(([mark]) => text.startsWith(mark))?.[1]
  if (found !== undefined) return found
  if (text.includes('%PDF-')) return 'PDF'
  return /^(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?[\s\0]*<[\0]?(?:[?!]|svg)/i.test(text) ? 'SVG' : 'PSD'
}
