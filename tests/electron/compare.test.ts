import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeAll, beforeEach, expect, test } from 'vitest'
import { decodePng } from '../../core/base/png.ts'
import type { Job } from '../../core/job/job.ts'
import { blankJob } from '../../core/job/new.ts'
import { jobText } from '../../core/job/parse.ts'
import { hashFile } from '../../electron/hash-file.ts'
import { openJob } from '../../electron/open-job.ts'
import { addVersion } from '../../electron/version-book.ts'
import { versionNow } from '../../electron/version-sources.ts'
import { build } from '../../scripts/build.mjs'
import { lensArt } from '../support/lens-art.ts'
import { type Ran, runCli } from '../support/run-cli.ts'

/** Two jobs compared on real files and threads. Laws decide: nothing differs from itself, and the order of two does not matter. */

let folder: string
const plain = blankJob(30, 20)
const place = (name: string) => join(folder, name)
const save = (name: string, change: Partial<Job> = {}) =>
  writeFileSync(place(name), jobText({ ...plain, ...change }))
const run = (...args: string[]): Promise<Ran> => runCli('compare', ...args, '--size', '48x32')
const json = async (...args: string[]) => JSON.parse((await run(...args, '--json')).out)

beforeAll(async () => {
  for (const part of ['workers', 'viewer', 'loader']) await build(part)
})
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-compare-'))
  save('a.job.json')
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

test('more white is seen where it lies, told in words with its cost, and drawn beside both', async () => {
  save('b.job.json', { sketch: { whitePart: 0.75 } })
  const [a, b, file] = [place('a.job.json'), place('b.job.json'), place('pair.png')]
  const { difference, changes } = await json(a, b, '--out', file)
  expect(changes).toEqual([
    {
      what: 'sketch',
      words: 'sketch, white part: 0.25 to 0.75',
      cost: { master: false, plates: true },
      why: 'the sketch says how much of the panel white covers',
    },
  ])
  // Half the panel goes from foil to white; edges are left out.
  expect(difference.above5).toBeGreaterThan(0.4)
  expect(difference.above5).toBeLessThan(0.55)
  const picture = decodePng(new Uint8Array(readFileSync(file)))
  expect(picture.width).toBeGreaterThan(3 * 48)
  expect(picture.height).toBeGreaterThan(32)
})

test('both are seen under the light of A, held as A is or as the flags say', async () => {
  save('b.job.json', {
    view: { ...plain.view, pose: { tiltForwardDeg: 20, tiltSideDeg: 0, turnDeg: 0 }, exposureStops: 2 },
    light: { ...plain.light, roomLevel: 0 },
  })
  const held = ['--tilt', '10,-5', '--turn', '30'] as const
  const { difference, changes } = await json(place('a.job.json'), place('b.job.json'), ...held)
  expect(difference).toMatchObject({ mean: 0, max: 0, above1: 0, apart: 0 })
  expect(difference.compared).toBeGreaterThan(300)
  expect(changes.map((one: { what: string }) => one.what).sort()).toEqual(['light', 'view'])
})

test('a smaller panel has another outline', async () => {
  save('b.job.json', { panel: { ...plain.panel, widthMm: 15 } })
  const { difference } = await json(place('a.job.json'), place('b.job.json'))
  expect(difference.apart).toBeGreaterThan(0.3)
})

test('changed art is priced by the layers that changed', async () => {
  const named = async (name: string, bytes: Uint8Array) => {
    writeFileSync(place(`${name}.psd`), bytes)
    const art = { path: `${name}.psd`, sha256: await hashFile(place(`${name}.psd`)) }
    save(`${name}.job.json`, { art, panel: { ...plain.panel, widthMm: 10.16, heightMm: 6.77 } })
    return place(`${name}.job.json`)
  }
  const a = await named('lens', lensArt())
  const b = await named('moved', lensArt('Ink', { holography: 0, ink: 6, white: 0 }))
  const { changes } = await json(a, b)
  expect(changes).toMatchObject([
    { what: 'art', words: 'art "lens.psd" is now "moved.psd"', cost: { master: false, plates: true } },
  ])
})

test('a version is compared by its id, and refused where its files are no longer the same', async () => {
  const job = place('a.job.json')
  const version = await versionNow(await openJob(job, false), 'a.job.json', '2026-03-04T09:30:00Z')
  await addVersion(job, version, null)
  save('a.job.json', { sketch: { whitePart: 0.5 } })
  const id = version.id.slice(0, 8)
  const found = await json(`${job}@${id}`, job)
  expect(found.a).toBe(`a.job.json, version ${id}`)
  expect(found.changes).toMatchObject([{ what: 'sketch' }])
  expect(found.difference.above5).toBeGreaterThan(0.1)
  expect((await run(`${job}@00000000`, job)).err).toContain('version 00000000: is not in its list')
})

test.each([
  [['--tilt', '100,0'], '--tilt, --turn: field "tiltForwardDeg"'],
  [['--lamp', '0,100,400,30'], '--lamp: field "elevationDeg"'],
  [['--lamp', '0,90,1,30'], 'reaches into the panel'],
])('light and view that cannot be are refused: %#', async (flags, message) => {
  const ran = await run(place('a.job.json'), place('a.job.json'), ...flags)
  expect(ran.code).toBe(1)
  expect(ran.err).toContain(message)
})

test('a proof shows what its job shows, is signed by itself, and is refused once it was changed', async () => {
  const [job, proof, record] = [place('a.job.json'), place('a.proof.html'), place('a.signoff.json')]
  const made = await runCli('proof', job, '-o', proof, '--unchecked')
  expect(made.code).toBe(0)
  const same = await json(proof, job, '--tilt', '10,-5')
  // Planes are packed without loss, so not even a last digit differs.
  expect(same.difference).toMatchObject({ max: 0, apart: 0 })
  expect(same.changes).toEqual([])

  const signed = await runCli(
    'approve',
    proof,
    '--as',
    'Client',
    '--role',
    'must approve',
    '--decision',
    'OK',
  )
  expect(signed.code).toBe(0)
  expect((await runCli('verify', record)).code).toBe(0)

  const page = readFileSync(proof, 'utf8')
  writeFileSync(proof, page.replace('"whitePart":0.25', '"whitePart":0.35'))
  const changed = await run(proof, job)
  expect(changed.code).toBe(1)
  expect(changed.err).toContain('is not what its hash "jobSha256" says')
  writeFileSync(proof, 'no proof')
  expect((await run(proof, job)).err).toContain('is not the one file of a proof')
})
