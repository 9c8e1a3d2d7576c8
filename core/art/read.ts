import { BadInput } from '../base/finding.ts'
import type { ByteSource } from '../base/source.ts'
import type { Task } from '../base/task.ts'
import type { ArtFile } from './layer.ts'
import { openPsd } from './psd.ts'

export interface ReadOptions {
  /** Bytes that one decoded plane, or one section held in memory, may take. */
  readonly memoryBudget?: number
}

const defaultBudget = 4 * 2 ** 30

/**
 * Opens layered art. Pixels are decoded on demand; nothing of the file is kept but where they lie.
 * @throws BadInput with file, place and remedy when the file cannot be used
 * @throws Cancelled when the task is told to stop
 */
export async function readArt(source: ByteSource, options: ReadOptions = {}, task?: Task): Promise<ArtFile> {
  try {
    return await openPsd(source, options.memoryBudget ?? defaultBudget, task)
  } catch (error) {
    // A typed array that the machine cannot give; sizes were checked, so it is the machine and not the file.
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
