import { access, appendFile, constants, mkdir, stat } from 'node:fs/promises'
import { basename, dirname, resolve } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { atomicWrite } from './atomic-write.ts'

/**
 * Saves a file whole or not at all.
 * Rejects with BadInput when the place cannot be written; what was there before is then still there.
 */
export async function writeFileSafely(path: string, content: Uint8Array | string): Promise<void> {
  await atomicWrite(path, content).catch(error => {
    throw unwritable(path, error)
  })
}

/** Adds a line to a file, which is made when it is not there; lines of several writers do not mix. */
export async function addLine(path: string, line: string): Promise<void> {
  await appendFile(path, `${line}\n`).catch(error => {
    throw unwritable(path, error)
  })
}

/**
 * Rejects with BadInput where a file cannot be written as things stand, so that it is said before long work and not
 * after; what happens to the place meanwhile is said when it is written.
 */
export async function requireWritable(path: string): Promise<void> {
  try {
    const folder = dirname(resolve(path))
    if (!(await stat(folder)).isDirectory()) throw Object.assign(new Error(folder), { code: 'ENOTDIR' })
    await access(folder, constants.W_OK)
    const there = await stat(path).catch(() => null)
    if (there?.isDirectory()) throw Object.assign(new Error(path), { code: 'EISDIR' })
  } catch (error) {
    throw unwritable(path, error)
  }
}

/** Makes a folder and those it lies in; one that is there is fine. Rejects with BadInput when it cannot. */
export async function makeFolder(path: string): Promise<void> {
  await madeFolder(resolve(path)).catch(error => {
    throw unwritable(path, error)
  })
}

/** Node's own recursive way never ends where the system says "no such folder" for a child of one that is there (/proc). */
async function madeFolder(path: string): Promise<void> {
  try {
    await mkdir(path)
  } catch (error) {
    const code = codeOf(error)
    if (code === 'EEXIST' && (await stat(path)).isDirectory()) return
    if (code !== 'ENOENT' || dirname(path) === path) throw error
    await madeFolder(dirname(path))
    await mkdir(path)
  }
}

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : 'unknown'

/** What the system says of a place that cannot be written, in words. */
export function unwritable(path: string, error: unknown): BadInput {
  const code = codeOf(error)
  const [problem, fix] = reasons[code] ?? [`cannot be written (${code})`, 'Choose another place']
  return new BadInput('unwritable', basename(path) || path, `writing to ${path}`, problem, fix)
}

const reasons: Readonly<Record<string, readonly [string, string]>> = {
  ENOENT: ['the folder is not there and cannot be made here', 'Make the folder, or choose another place'],
  ENOTDIR: ['a file stands where a folder should be', 'Choose another place'],
  EEXIST: ['a file stands where a folder should be', 'Choose another place'],
  EISDIR: ['is a folder', 'Give the name of a file'],
  EACCES: ['you may not write there', 'Choose another place, or give yourself permission'],
  EPERM: ['you may not write there', 'Choose another place, or give yourself permission'],
  EROFS: ['the disk is read-only', 'Choose another place'],
  ENOSPC: ['the disk is full', 'Make room and try again'],
  EFBIG: ['it would be larger than a file may be there', 'Choose another place, or make it smaller'],
  EDQUOT: ['your quota of the disk is used up', 'Make room and try again'],
}
