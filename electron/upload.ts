import { randomUUID } from 'node:crypto'
import { mkdir, mkdtemp, open, rm } from 'node:fs/promises'
import type { IncomingMessage } from 'node:http'
import { tmpdir } from 'node:os'
import { extname, join } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { body } from './body.ts'

/** Longest upload, bytes: PSB files above 2 GB are ordinary; past this a browser is the wrong road. */
const uploadLimit = 8 * 2 ** 30

/** Characters of a kept name: far below what file systems allow, in any script. */
const nameLimit = 60

export interface Inbox {
  /** Streams a request's body to a file of its own and gives its path. Rejects with BadInput, leaving no file. */
  receive(request: IncomingMessage, name: string): Promise<{ readonly path: string; readonly name: string }>
  /** Removes everything received. */
  close(): Promise<void>
}

/** A temporary folder that only this user can read; each upload lies in a folder of its own in it. */
export async function openInbox(limit = uploadLimit): Promise<Inbox> {
  const folder = await mkdtemp(join(tmpdir(), 'rakelight-'))
  return {
    async receive(request, name) {
      const shown = safeName(name)
      const place = join(folder, randomUUID())
      await mkdir(place)
      const path = join(place, shown)
      try {
        await store(
          body(request, limit, () => tooLong(shown, limit)),
          path,
        )
      } catch (error) {
        await rm(place, { recursive: true, force: true })
        throw error instanceof BadInput ? error : interrupted(shown, error)
      }
      return { path, name: shown }
    },
    close: () => rm(folder, { recursive: true, force: true }),
  }
}

async function store(pieces: AsyncIterable<Uint8Array>, path: string): Promise<void> {
  const file = await open(path, 'wx', 0o600)
  try {
    for await (const piece of pieces) await file.appendFile(piece)
  } finally {
    await file.close()
  }
}

/** The last part of what the browser calls the file, without what a file system or a terminal would act on. */
export function safeName(name: string): string {
  const last = name.split(/[/\\]/).at(-1) ?? ''
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  const plain = last.replace(/[\u0000-\u001f\u007f<>:"|?*]/g, '_').replace(/^\.+/, '')
  const ending = extname(plain).slice(0, 20)
  const stem = [...plain.slice(0, plain.length - ending.length)]
  return stem.slice(0, nameLimit - ending.length).join('') + ending || 'file'
}

const tooLong = (name: string, limit: number): BadInput =>
  new BadInput(
    'upload-too-long',
    name,
    `byte ${limit}`,
    `the file is longer than ${(limit / 1e9).toFixed(1)} GB`,
    'Open it in the desktop window, which reads it in place',
  )

function interrupted(name: string, error: unknown): BadInput {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown'
  const [problem, fix] =
    code === 'ENOSPC'
      ? ['the temporary folder is full', 'Free some disk space and try again']
      : [`the upload broke off (${code})`, 'Try again']
  return new BadInput('upload-failed', name, 'the upload', problem, fix)
}
