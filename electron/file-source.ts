import { type FileHandle, open } from 'node:fs/promises'
import { basename } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import type { ByteSource } from '../core/base/source.ts'

/** A file on disk, read by seeking. It must be closed. */
export interface FileSource extends ByteSource {
  /** Absolute path, for the host only. */
  readonly path: string
  close(): Promise<void>
}

/**
 * Opens a file for reading at any place.
 * @param name  shown in messages; the path's last part when left out
 * Rejects with BadInput when there is no such file, it may not be read, or it is a folder or a device.
 */
export async function openFile(path: string, name = basename(path)): Promise<FileSource> {
  const handle = await open(path, 'r').catch(error => {
    throw unreadable(name, error)
  })
  try {
    const info = await handle.stat()
    if (!info.isFile())
      throw new BadInput(
        'not-a-file',
        name,
        'the path',
        info.isDirectory() ? 'is a folder' : 'is not a file',
        'Choose a file',
      )
    return source(handle, path, name, info.size)
  } catch (error) {
    await handle.close()
    throw error
  }
}

function source(handle: FileHandle, path: string, name: string, size: number): FileSource {
  return {
    name,
    path,
    size,
    async read(offset, length) {
      if (!(offset >= 0 && length >= 0 && offset + length <= size))
        throw new RangeError(`${name}: expected bytes ${offset}..${offset + length}, got ${size} bytes`)
      const bytes = new Uint8Array(length)
      let filled = 0
      while (filled < length) {
        const { bytesRead } = await handle
          .read(bytes, filled, length - filled, offset + filled)
          .catch(error => {
            throw unreadable(name, error)
          })
        if (bytesRead === 0)
          throw new BadInput(
            'file-shrank',
            name,
            `byte ${offset + filled}`,
            'the file became shorter while it was read',
            'Wait until it is saved, then open it again',
          )
        filled += bytesRead
      }
      return bytes
    },
    close: () => handle.close(),
  }
}

/** The system's reasons that a user meets, in words; others keep the system's code. */
function unreadable(name: string, error: unknown): BadInput {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown'
  const [problem, fix] = reasons[code] ?? [
    `cannot be read (${code})`,
    'Copy it to a local disk and try again',
  ]
  return new BadInput('unreadable-file', name, 'the file', problem, fix)
}

const reasons: Readonly<Record<string, readonly [string, string]>> = {
  ENOENT: ['is not there (any more)', 'Check its name and folder, or choose it again'],
  ENOTDIR: ['is not there (any more)', 'Check its name and folder, or choose it again'],
  EACCES: ['may not be read', 'Give yourself permission to read it'],
  EPERM: ['may not be read', 'Give yourself permission to read it'],
  EISDIR: ['is a folder', 'Choose a file'],
  EMFILE: ['cannot be opened: too many files are open', 'Close other files and try again'],
  EIO: ['cannot be read from its disk', 'Check the disk, or copy the file elsewhere'],
}
