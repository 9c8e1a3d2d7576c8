import { BadInput } from '../base/finding.ts'
import type { ByteSource } from '../base/source.ts'
import type { Task } from '../base/task.ts'
import type { ColorEngine } from '../color/profile.ts'
import type { ArtFile, ReadAs } from './layer.ts'
import { openPsd } from './psd.ts'

export interface ReadOptions {
  /** Bytes that one decoded plane, or one section held in memory, may take; 4 GiB when left out. */
  readonly memoryBudget?: number
  /** Of a file of pages: the number of the one that is read, from 1; the first when left out. */
  readonly page?: number
  /** Of what is drawn: pixels on an inch of its planes; `drawnPpi` when left out. */
  readonly ppi?: number
  /** Of a file that asks for one. Without it, or with a wrong one, `password-needed` or `password-wrong` is thrown. */
  readonly password?: string
  /** Of a page: every ink by itself, or only where its layers are painted; inks when left out. */
  readonly readAs?: ReadAs
  /** Further files that make up the art together with the first: further plates, or drawn layers over an image. */
  readonly beside?: readonly ByteSource[]
  /** What lies with the program; without it what needs it is said to be missing. */
  readonly shipped?: ShippedData
}

/** Bytes that lie with the program. */
export interface ShippedData {
  /** The standard fonts and the tables of their characters, by file name. */
  readonly font: (name: string) => Promise<Uint8Array>
  /** Programs that images are unpacked by, by file name. */
  readonly codec: (name: string) => Promise<Uint8Array>
  /** What separates colours that are no inks, where the art names no print condition of its own. */
  readonly press: () => Promise<{ readonly engine: ColorEngine; readonly profile: Uint8Array }>
}

const defaultBudget = 4 * 2 ** 30

/**
 * Opens layered art: what the file is, is told by its first bytes and never by its name. Pixels are decoded when they
 * are asked for; the source must stay open until then.
 * @throws BadInput with file, place and remedy when the file cannot be used
 * @throws Cancelled when the task is told to stop
 */
export async function readArt(source: ByteSource, options: ReadOptions = {}, task?: Task): Promise<ArtFile> {
  const other = await foreignKind(source)
  if (other !== null)
    throw new BadInput(
      'not-psd',
      source.name,
      'byte 0',
      `this is ${other}, which has no layers that can be read here`,
      'Export the art as a layered PSD or PSB.',
    )
  try {
    return await openPsd(source, options.memoryBudget ?? defaultBudget, task)
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

/** First bytes of files that people drop by mistake, and what to call them. */
const foreign: readonly (readonly [start: string, kind: string])[] = [
  ['%PDF', 'a PDF'],
  ['%!PS', 'PostScript'],
  ['\x89PNG', 'a PNG'],
  ['\xff\xd8\xff', 'a JPEG'],
  ['II*\0', 'a TIFF'],
  ['MM\0*', 'a TIFF'],
  ['<svg', 'an SVG'],
  ['<?xm', 'XML'],
  ['PK\x03\x04', 'a ZIP archive'],
]

async function foreignKind(source: ByteSource): Promise<string | null> {
  if (source.size < 4) return null
  const start = await source.read(0, 4).catch(() => null)
  if (start === null) return null
  const text = String.fromCharCode(...start)
  return foreign.find(([mark]) => text.startsWith(mark))?.[1] ?? null
}
