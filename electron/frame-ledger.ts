import { createHash } from 'node:crypto'
import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { addLine } from './write-file.ts'

/** Beside the frames of a sequence: a line of JSON for each that was written, so that a broken run can go on. */
export const ledgerName = 'frames.ledger'

interface Line {
  /** SHA-256 of everything that the frames come from. */
  readonly inputs: string
  readonly file: string
  /** SHA-256 of the file. */
  readonly sha256: string
}

/**
 * Which frames of a folder are there, whole, and made from the same. Several runs may write parts of one sequence into
 * one folder at a time: each only adds lines, and what a killed one left half is passed over.
 */
export class FrameLedger {
  readonly #folder: string
  readonly #inputs: string
  readonly #known: ReadonlyMap<string, string>
  /** The file's last line was cut off; the next begins on a line of its own. */
  #torn: boolean

  private constructor(folder: string, inputs: string, text: string) {
    this.#folder = folder
    this.#inputs = inputs
    this.#torn = text !== '' && !text.endsWith('\n')
    const lines = text.split('\n').flatMap(one => read(one))
    // The last word on a file counts, whatever it was made from.
    const last = new Map(lines.map(line => [line.file, line]))
    this.#known = new Map(
      [...last.values()].filter(line => line.inputs === inputs).map(({ file, sha256 }) => [file, sha256]),
    )
  }

  /** @param inputs SHA-256 of everything that the frames come from */
  static async open(folder: string, inputs: string): Promise<FrameLedger> {
    const text = await readFile(join(folder, ledgerName), 'utf8').catch(() => '')
    return new FrameLedger(folder, inputs, text)
  }

  /** Whether a frame is there as it was written from the same inputs. */
  async has(file: string): Promise<boolean> {
    const noted = this.#known.get(file)
    if (noted === undefined) return false
    const bytes = await readFile(join(this.#folder, file)).catch(() => null)
    return bytes !== null && sha256(bytes) === noted
  }

  /** Notes a frame that was just written. */
  async note(file: string, bytes: Uint8Array): Promise<void> {
    const line: Line = { inputs: this.#inputs, file, sha256: sha256(bytes) }
    await addLine(join(this.#folder, ledgerName), `${this.#torn ? '\n' : ''}${JSON.stringify(line)}`)
    this.#torn = false
  }
}

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex')

/** Nothing for a line that is not whole. */
function read(text: string): readonly Line[] {
  try {
    const line: unknown = JSON.parse(text)
    if (typeof line !== 'object' || line === null) return []
    const { inputs, file, sha256: hash } = line as Partial<Record<keyof Line, unknown>>
    return typeof inputs === 'string' && typeof file === 'string' && typeof hash === 'string'
      ? [{ inputs, file, sha256: hash }]
      : []
  } catch {
    return []
  }
}
