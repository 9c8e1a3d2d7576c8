import { BadInput } from '../core/base/finding.ts'
import { openFile } from './file-source.ts'

/** Longest file that is read whole, bytes. */
const limit = 256e6

/** A file's bytes. Rejects with BadInput when it cannot be read or is too long to be held. */
export async function readWhole(path: string): Promise<Uint8Array> {
  const file = await openFile(path)
  try {
    if (file.size > limit)
      throw new BadInput(
        'file-too-long',
        file.name,
        'the file',
        `is longer than ${limit / 1e6} MB`,
        'Make it smaller: a view needs a thousand pixels at most',
      )
    return await file.read(0, file.size)
  } finally {
    await file.close()
  }
}
