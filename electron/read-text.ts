import { BadInput } from '../core/base/finding.ts'
import { openFile } from './file-source.ts'

/** A job or a material is a few kilobytes; something this long is another kind of file. */
const longest = 64 << 20

/**
 * The text of a whole file. Rejects with BadInput when it cannot be read or is no text.
 * @param exact a byte order mark at its beginning is part of the text
 */
export async function readText(path: string, exact = false): Promise<string> {
  const file = await openFile(path)
  try {
    if (file.size > longest)
      throw new BadInput('not-text', file.name, 'the file', 'is too long to be a job', 'Choose another file')
    const bytes = await file.read(0, file.size)
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: exact }).decode(bytes)
  } catch (error) {
    if (!(error instanceof TypeError)) throw error
    throw new BadInput('not-text', file.name, 'the file', 'is not text', 'Choose another file')
  } finally {
    await file.close()
  }
}
