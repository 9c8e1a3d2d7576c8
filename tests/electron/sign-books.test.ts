import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { hostname, tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { jobText } from '../../core/job/parse.ts'
import { emptyNotes, type Note, notesText } from '../../core/proof/notes.ts'
import type { SignWish } from '../../core/proof/round.ts'
import { versionOf } from '../../core/proof/version.ts'
import { addNotes, mergeReturned, readNotes } from '../../electron/note-book.ts'
import { changeFile } from '../../electron/shared-file.ts'
import { addToRecord, readRecord } from '../../electron/signoff-book.ts'
import { addVersion, listVersions } from '../../electron/version-book.ts'
import { plainJob } from '../support/job.ts'

let folder: string
let jobPath: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-books-'))
  jobPath = join(folder, 'comet.job.json')
  writeFileSync(jobPath, jobText(plainJob))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const version = (madeAt: string, job = plainJob) =>
  versionOf({ jobName: 'comet.job.json', madeAt, program: '0.1.0', data: '0', sources: [], job })
const first = version('2026-03-01T00:00:00Z')
const second = version('2026-03-02T00:00:00Z')
const file = (name: string) => ({ name, sha256: 'ab'.repeat(32), bytes: 10 })
const note: Note = {
  id: 'note-0001',
  of: first.id,
  author: 'Client',
  at: '2026-03-01T10:00:00Z',
  text: 'Brighter',
  place: { xMm: 1, yMm: 2 },
  lamp: { azimuthDeg: 45, elevationDeg: 60, distanceMm: 400, diameterMm: 30 },
  view: {
    pose: { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 },
    eye: { distanceMm: 350, sideDeg: 0, riseDeg: 0 },
  },
  answers: [],
}

test('versions are listed in the order in which they went out, each with its files', async () => {
  expect(await listVersions(jobPath)).toEqual([])
  await addVersion(jobPath, first, file('comet.proof.html'))
  await addVersion(jobPath, second, null)
  await addVersion(jobPath, first, file('comet.mp4'))
  expect(await listVersions(jobPath)).toEqual([
    { version: first, files: [file('comet.proof.html'), file('comet.mp4')] },
    { version: second, files: [] },
  ])
})

test('no version is lost when many are added at once, and no lock is left', async () => {
  const all = Array.from({ length: 20 }, (_, i) => version(`2026-03-03T00:00:${String(i).padStart(2, '0')}Z`))
  await Promise.all(all.map(one => addVersion(jobPath, one, null)))
  const listed = (await listVersions(jobPath)).map(one => one.version.id)
  expect(listed.sort()).toEqual(all.map(one => one.id).sort())
  expect(readdirSync(folder).filter(name => name.startsWith('.'))).toEqual([])
})

test('the lock of a process that is gone does not hold anyone up', async () => {
  const child = spawn(process.execPath, ['-e', ''])
  await once(child, 'exit')
  writeFileSync(join(folder, '.comet.versions.json.lock'), `${child.pid} ${hostname()}`)
  await addVersion(jobPath, first, null)
  expect(await listVersions(jobPath)).toHaveLength(1)
})

test('a change that fails leaves the file as it was, and no lock', async () => {
  const path = join(folder, 'text.txt')
  writeFileSync(path, 'before')
  await expect(
    changeFile(path, async () => {
      throw new Error('no')
    }),
  ).rejects.toThrow('no')
  expect(readFileSync(path, 'utf8')).toBe('before')
  expect(readdirSync(folder).sort()).toEqual(['comet.job.json', 'text.txt'])
})

test.skipIf(!existsSync('/proc/self'))('a folder where nothing can be written is told in words', async () => {
  await expect(addVersion('/proc/comet.job.json', first, null)).rejects.toThrow(/writing to \/proc/)
})

test('notes gather beside the job, and those of a returned proof are laid to them', async () => {
  expect(await readNotes(jobPath)).toEqual(emptyNotes('comet.job.json', null))
  await addVersion(jobPath, first, null)
  await addVersion(jobPath, second, null)
  const answered = {
    ...note,
    answers: [{ author: 'Studio', at: '2026-03-02T00:00:00Z', text: 'Done', state: 'settled' as const }],
  }
  expect((await addNotes(jobPath, [answered])).added).toBe(2)
  const returned = join(folder, 'back.notes.json')
  const other = { ...note, id: 'note-0002', text: 'The tail is fine' }
  writeFileSync(returned, notesText({ ...emptyNotes('comet.job.json', first.id), notes: [note, other] }))
  const merged = await mergeReturned(jobPath, returned)
  expect(merged.added).toBe(1)
  expect(merged.mark).toEqual({ kind: 'older', of: first.id, madeAt: first.madeAt })
  expect(merged.file.notes).toEqual([answered, other])
  expect((await mergeReturned(jobPath, returned)).added).toBe(0)
  expect(await readNotes(jobPath)).toEqual(merged.file)
})

test('notes of another job are refused, and nothing is written', async () => {
  const returned = join(folder, 'back.notes.json')
  writeFileSync(returned, notesText({ ...emptyNotes('lens.job.json', second.id), notes: [note] }))
  await expect(mergeReturned(jobPath, returned)).rejects.toThrow('the notes belong to "lens.job.json"')
  expect(existsSync(join(folder, 'comet.notes.json'))).toBe(false)
})

const ok = (by: string): SignWish => ({
  by,
  ask: [],
  decision: {
    role: 'Obligated',
    decision: 'Approved',
    conditions: [],
    reason: '',
    viewing: null,
    display: null,
  },
})
const at = '2026-03-04T00:00:00Z'
const layers = async () => []

test('a record grows by entries, and an edit begins a new one that names the one before', async () => {
  const path = join(folder, 'comet.signoff.json')
  await addToRecord(path, { version: first, proof: null, layers }, ok('Client'), at, null)
  const two = await addToRecord(path, { version: second, proof: null, layers }, ok('Printer'), at, null)
  expect(two.of.id).toBe(first.id)
  expect(two.entries.map(one => `${one.kind} ${one.by}`)).toEqual([
    'people Client',
    'decision Client',
    'people Printer',
    'decision Printer',
  ])
  const edited = version('2026-03-05T00:00:00Z', { ...plainJob, brief: 'A brighter comet' })
  const three = await addToRecord(path, { version: edited, proof: null, layers }, ok('Client'), at, null)
  expect(three.entries).toHaveLength(2)
  const earlier = `comet.${two.seal.slice(0, 8)}.signoff.json`
  expect(three.supersedes).toEqual({ name: earlier, seal: two.seal })
  expect((await readRecord(join(folder, earlier)))?.record).toEqual(two)
  expect((await readRecord(path))?.broken).toEqual([])
})

test('another proof of the same job is signed in a record of its own', async () => {
  const path = join(folder, 'comet.signoff.json')
  const one = { version: first, proof: file('comet.proof.html'), layers }
  await addToRecord(path, one, ok('Client'), at, null)
  expect((await addToRecord(path, one, ok('Printer'), at, null)).supersedes).toBeNull()
  const other = { version: second, proof: { ...file('comet.proof.html'), sha256: 'cd'.repeat(32) }, layers }
  expect((await addToRecord(path, other, ok('Client'), at, null)).supersedes).not.toBeNull()
})

test('nothing is added to a record that was changed', async () => {
  const path = join(folder, 'comet.signoff.json')
  await addToRecord(path, { version: first, proof: null, layers }, ok('Client'), at, null)
  const text = readFileSync(path, 'utf8').replace('"Approved"', '"Rejected"')
  writeFileSync(path, text)
  await expect(
    addToRecord(path, { version: first, proof: null, layers }, ok('Printer'), at, null),
  ).rejects.toThrow('entry 2, Client: is not what its hash says: the record was changed')
  expect(readFileSync(path, 'utf8')).toBe(text)
})
