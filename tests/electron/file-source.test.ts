import { chmodSync, mkdtempSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { memorySource } from '../../core/base/source.ts'
import { openFile } from '../../electron/file-source.ts'

// The law: a file on disk reads exactly as the same bytes in memory do, and what cannot be read says so by name.

let folder: string

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-source-'))
})

afterEach(() => {
  rmSync(folder, { recursive: true, force: true })
})

function file(name: string, bytes: Uint8Array): string {
  writeFileSync(join(folder, name), bytes)
  return join(folder, name)
}

describe('a file', () => {
  const bytes = Uint8Array.from({ length: 1000 }, (_, i) => (i * 7) % 256)

  it('reads as the same bytes in memory', async () => {
    const source = await openFile(file('comet.psd', bytes))
    const memory = memorySource('comet.psd', bytes)
    expect(source.size).toBe(memory.size)
    expect(source.name).toBe(memory.name)
    for (const [offset, length] of [
      [0, 1000],
      [0, 0],
      [1000, 0],
      [999, 1],
      [123, 456],
    ] as const)
      expect(await source.read(offset, length)).toEqual(new Uint8Array(await memory.read(offset, length)))
    await source.close()
  })

  it.each([
    [0, 1001],
    [1001, 0],
    [-1, 1],
    [0, -1],
    [Number.NaN, 1],
  ])('rejects the range %d + %d, which it does not hold', async (offset, length) => {
    const source = await openFile(file('comet.psd', bytes))
    await expect(source.read(offset, length)).rejects.toThrow(RangeError)
    await source.close()
  })

  it('that shrinks while it is read says where', async () => {
    const path = file('comet.psd', bytes)
    const source = await openFile(path)
    truncateSync(path, 500)
    await expect(source.read(400, 200)).rejects.toMatchObject({
      name: 'BadInput',
      code: 'file-shrank',
      subject: 'comet.psd',
      where: 'byte 500',
    })
    await source.close()
  })

  it('above 2 GB is read by seeking', async () => {
    const path = file('large.psb', new Uint8Array(0))
    truncateSync(path, 5_000_000_000)
    const source = await openFile(path)
    expect(source.size).toBe(5_000_000_000)
    expect(await source.read(4_999_999_996, 4)).toEqual(new Uint8Array(4))
    await source.close()
  })
})

describe('refused by name', () => {
  it('a file that is gone', async () => {
    await expect(openFile(join(folder, 'gone.psd'))).rejects.toMatchObject({
      name: 'BadInput',
      message: 'gone.psd: the file: is not there (any more). Check its name and folder, or choose it again',
    })
  })

  it('a folder', async () => {
    await expect(openFile(folder, 'art')).rejects.toMatchObject({ name: 'BadInput', code: 'not-a-file' })
  })

  it.skipIf(process.getuid?.() === 0)('a file without permission', async () => {
    const path = file('locked.psd', new Uint8Array(1))
    chmodSync(path, 0)
    await expect(openFile(path)).rejects.toMatchObject({ code: 'unreadable-file' })
  })

  it('a device, before anything is read from it', async () => {
    await expect(openFile('/dev/zero')).rejects.toMatchObject({ name: 'BadInput', code: 'not-a-file' })
  })
})
