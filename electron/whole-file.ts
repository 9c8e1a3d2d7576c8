import { type FileHandle, open } from 'node:fs/promises'
import { dropPart, type Part, partFor, takeName } from './atomic-write.ts'
import { unwritable } from './write-file.ts'

/**
 * A file that is written piece by piece and is there only once it is whole: the pieces go to a part beside it. Rejects
 * with BadInput where the place cannot be written; what was there before then stays.
 */
export class WholeFile {
  readonly #path: string
  readonly #part: Part
  readonly #file: FileHandle
  #bytes = 0

  private constructor(path: string, part: Part, file: FileHandle) {
    this.#path = path
    this.#part = part
    this.#file = file
  }

  static async open(path: string): Promise<WholeFile> {
    try {
      const part = await partFor(path)
      return new WholeFile(path, part, await open(part.path, 'wx', part.mode))
    } catch (error) {
      throw unwritable(path, error)
    }
  }

  /** Where the part lies: for a program that writes it itself. */
  get partPath(): string {
    return this.#part.path
  }

  async write(piece: Uint8Array): Promise<void> {
    try {
      // One call may write less than it was given.
      for (let at = 0; at < piece.length; )
        at += (await this.#file.write(piece, at, piece.length - at, this.#bytes + at)).bytesWritten
      this.#bytes += piece.length
    } catch (error) {
      throw unwritable(this.#path, error)
    }
  }

  /** The file takes its name. Gives its bytes. */
  async finish(): Promise<number> {
    try {
      const { size } = await this.#file.stat()
      await this.#file.sync()
      await this.#file.close()
      await takeName(this.#part)
      return size
    } catch (error) {
      throw unwritable(this.#path, error)
    }
  }

  /** Nothing is left of it; also after a failure. */
  async abandon(): Promise<void> {
    await this.#file.close().catch(() => undefined)
    await dropPart(this.#part)
  }
}
