import { type ChildProcess, spawn } from 'node:child_process'
import { createHash, randomBytes } from 'node:crypto'
import {
  chmodSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { atomicWrite } from '../../electron/atomic-write.ts'

/** The law: whenever the writer is killed, the file holds one whole saved content, and none that was reported saved is lost. */

let folder: string

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-save-'))
})

afterEach(() => {
  rmSync(folder, { recursive: true, force: true })
})

/** Large enough that a kill often falls inside the write. */
const contentLength = 1_000_000
const kills = 200
const writers = 2

/**
 * Saves generation after generation and reports each once it is saved. A generation's content is its number and
 * bytes that follow from it, so that a torn file is told from a whole one.
 */
const writer = `
import { createHash } from 'node:crypto'
import { writeFile } from 'node:fs/promises'
import { atomicWrite } from './atomic-write.mjs'
const [path, start, way] = process.argv.slice(2)
const write = way === 'plain' ? writeFile : atomicWrite
process.stdout.write('ready\\n')
for (let generation = Number(start); ; generation++) {
  const seed = createHash('sha256').update(String(generation)).digest()
  const content = Buffer.alloc(${contentLength}, seed)
  content.write(String(generation).padEnd(16))
  await write(path, content)
  process.stdout.write(generation + '\\n')
}
`

/** As the writer makes it. */
function contentOf(generation: number): Buffer {
  const content = Buffer.alloc(contentLength, createHash('sha256').update(String(generation)).digest())
  content.write(String(generation).padEnd(16))
  return content
}

/** The generation a file holds; null when it is not one whole content. */
function generationIn(path: string): number | null {
  const found = readFileSync(path)
  const generation = Number(found.subarray(0, 16).toString())
  return found.equals(contentOf(generation)) ? generation : null
}

function prepareWriter(): string {
  const source = fileURLToPath(new URL('../../electron/atomic-write.ts', import.meta.url))
  const options = { target: ts.ScriptTarget.ES2023, module: ts.ModuleKind.ESNext }
  const { outputText } = ts.transpileModule(readFileSync(source, 'utf8'), { compilerOptions: options })
  writeFileSync(join(folder, 'atomic-write.mjs'), outputText)
  writeFileSync(join(folder, 'writer.mjs'), writer)
  return join(folder, 'writer.mjs')
}

/** Starts a writer, kills it a random while after its start, and returns the last generation it reported. */
async function killOnce(script: string, path: string, start: number, way: string): Promise<number> {
  const child: ChildProcess = spawn(process.execPath, [script, path, String(start), way], {
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  let reported = start - 1
  const lines = createInterface({ input: child.stdout! })
  const ready = new Promise<void>(resolve =>
    lines.on('line', line => {
      if (line !== 'ready') reported = Number(line)
      resolve()
    }),
  )
  const gone = new Promise(resolve => child.once('exit', resolve))
  const drained = new Promise(resolve => lines.once('close', resolve))
  await Promise.race([ready, gone])
  await new Promise(resolve => setTimeout(resolve, Math.random() * 30))
  child.kill('SIGKILL')
  await Promise.all([gone, drained])
  return reported
}

describe('a save that is killed', () => {
  it(`${kills} times leaves a whole file each time, never older than the last reported save`, async () => {
    const script = prepareWriter()
    const outcomes = await Promise.all(
      Array.from({ length: writers }, async (_, index) => {
        const home = join(folder, `home${index}`)
        mkdirSync(home)
        const path = join(home, 'carton.job.json')
        writeFileSync(path, contentOf(0))
        let held = 0
        let caughtInside = 0
        for (let kill = 0; kill < kills / writers; kill++) {
          const reported = await killOnce(script, path, held + 1, 'atomic')
          const found = generationIn(path)
          expect(found, `kill ${kill}: torn`).not.toBeNull()
          expect(found, `kill ${kill}: lost`).toBeGreaterThanOrEqual(reported)
          expect(found, `kill ${kill}: from nowhere`).toBeLessThanOrEqual(reported + 1)
          if (readdirSync(home).length > 1) caughtInside++
          held = found ?? held
        }
        await atomicWrite(path, 'the last word')
        expect(readdirSync(home)).toEqual(['carton.job.json'])
        expect(readFileSync(path, 'utf8')).toBe('the last word')
        return caughtInside
      }),
    )
    // The test is worth its name only when many kills fell inside a save.
    expect(outcomes.reduce((sum, one) => sum + one, 0)).toBeGreaterThan(kills / 10)
  }, 300_000)

  it('would be caught: a plain write is torn by the same kills', async () => {
    const script = prepareWriter()
    const path = join(folder, 'plain.json')
    writeFileSync(path, contentOf(0))
    let torn = false
    for (let kill = 0; kill < kills && !torn; kill++) {
      await killOnce(script, path, 1, 'plain')
      torn = generationIn(path) === null
    }
    expect(torn).toBe(true)
  })
})

describe('a save', () => {
  it('keeps the permissions of the file it replaces', async () => {
    const path = join(folder, 'a.json')
    writeFileSync(path, 'old')
    chmodSync(path, 0o640)
    await atomicWrite(path, 'new')
    expect(statSync(path).mode & 0o777).toBe(0o640)
  })

  it('follows a link and keeps it', async () => {
    const target = join(folder, 'target.json')
    const link = join(folder, 'link.json')
    writeFileSync(target, 'old')
    symlinkSync(target, link)
    await atomicWrite(link, new Uint8Array([110, 101, 119]))
    expect(lstatSync(link).isSymbolicLink()).toBe(true)
    expect(readFileSync(target, 'utf8')).toBe('new')
  })

  it('that fails says why and leaves the old file and nothing else', async () => {
    const place = join(folder, 'occupied')
    mkdirSync(place)
    writeFileSync(join(place, 'inside'), 'old')
    await expect(atomicWrite(place, 'new')).rejects.toMatchObject({ code: expect.stringMatching(/^E/) })
    expect(readdirSync(folder)).toEqual(['occupied'])
    expect(readFileSync(join(place, 'inside'), 'utf8')).toBe('old')
    await expect(atomicWrite(join(folder, 'none', 'a.json'), 'new')).rejects.toMatchObject({ code: 'ENOENT' })
  })

  it('leaves the parts of another save that still runs', async () => {
    const path = join(folder, 'a.json')
    const other = join(folder, `.a.json.${process.pid}.${randomBytes(6).toString('hex')}.rakelight-part`)
    writeFileSync(other, 'half')
    await atomicWrite(path, 'new')
    expect(readFileSync(other, 'utf8')).toBe('half')
  })
})
