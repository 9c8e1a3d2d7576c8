import { randomBytes } from 'node:crypto'
import { basename, extname, resolve } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import type { FileRef } from '../core/host/file-ref.ts'

/** A file that the page may speak of. */
export interface KnownFile {
  readonly ref: FileRef
  /** Absolute. */
  readonly path: string
  /** `upload`: it lies alone in a temporary folder and has no siblings. */
  readonly origin: 'path' | 'upload'
  /** False while it lies outside its job's folder and nobody has agreed to read it. */
  readonly agreed: boolean
}

/** Files by id. A page never sees a path, and cannot name a file that was not given to it. */
export class FileBook {
  readonly #byId = new Map<string, KnownFile>()

  /** The id of a path, the same as long as the program runs. */
  note(path: string, name = basename(path), origin: KnownFile['origin'] = 'path', agreed = true): KnownFile {
    const place = resolve(path)
    for (const known of this.#byId.values())
      if (known.path === place && known.origin === origin) return agreed ? this.#agree(known) : known
    const id = randomBytes(16).toString('base64url')
    const file: KnownFile = { ref: { id, name, kind: kindOf(name) }, path: place, origin, agreed }
    this.#byId.set(id, file)
    return file
  }

  /** The file of an id that may be read. Throws BadInput. */
  get(id: string): KnownFile {
    const file = this.#byId.get(id)
    if (file === undefined)
      throw new BadInput(
        'unknown-file',
        'the file',
        `id ${id}`,
        'was not opened in this session',
        'Open it again',
      )
    if (!file.agreed)
      throw new BadInput(
        'art-outside',
        file.ref.name,
        'the file',
        "lies outside the job's folder and was not read",
        'Agree to read it, or choose the art yourself',
      )
    return file
  }

  #agree(file: KnownFile): KnownFile {
    if (file.agreed) return file
    const agreed = { ...file, agreed: true }
    this.#byId.set(file.ref.id, agreed)
    return agreed
  }
}

/** Jobs are JSON; whatever else is opened is art, and the reader says if it is not. */
export function kindOf(name: string): FileRef['kind'] {
  return extname(name).toLowerCase() === '.json' ? 'job' : 'art'
}
