import { appendFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Job } from '../../core/job/job.ts'
import { blankJob } from '../../core/job/new.ts'
import { jobText } from '../../core/job/parse.ts'
import { brokenIn, parseRecord } from '../../core/proof/read-signoff.ts'
import { hashFile } from '../../electron/hash-file.ts'
import { openJob } from '../../electron/open-job.ts'
import { signedFile } from '../../electron/signing.ts'
import { addVersion } from '../../electron/version-book.ts'
import { versionNow } from '../../electron/version-sources.ts'
import { type LensPlates, lensArt } from '../support/lens-art.ts'
import { launchCli, type Ran, runCli } from '../support/run-cli.ts'

/** What the command line makes of versions and sign-off, on real files. No outside source: our own formats. */

let folder: string
let job: Job
const place = (name: string) => join(folder, name)
const jobFile = () => place('lens.job.json')
const recordFile = () => place('lens.signoff.json')
const proofFile = () => place('lens.proof.html')
const save = (change: Partial<Job> = {}) => writeFileSync(jobFile(), jobText({ ...job, ...change }))

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-approve-'))
  mkdirSync(place('art'))
  writeFileSync(place('art/lens.psd'), lensArt())
  writeFileSync(place('press.icc'), 'a profile')
  writeFileSync(place('rings.png'), 'heights')
  const named = async (path: string) => ({ path, sha256: await hashFile(place(path)) })
  const plain = blankJob(120, 80)
  job = {
    ...plain,
    art: await named('art/lens.psd'),
    assets: [{ id: 'heights-1', kind: 'heights', files: [await named('rings.png')] }],
    print: { ...plain.print, profile: await named('press.icc') },
  }
  save()
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

/** A proof of the job as it is, in the list of its versions. Only its bytes count here. */
async function proofWritten() {
  writeFileSync(proofFile(), '<!doctype html><title>lens</title>')
  const opened = await openJob(jobFile(), false)
  const version = await versionNow(opened, 'lens.job.json', '2026-03-04T09:30:00Z')
  await addVersion(jobFile(), version, await signedFile(proofFile()))
  return version
}

const approved = (...more: string[]): Promise<Ran> =>
  runCli('approve', jobFile(), '--as', 'Client', '--role', 'must approve', '--decision', 'OK', ...more)

/** The art with plates elsewhere, px. */
const drawnAnew = (moved: Partial<LensPlates>) =>
  writeFileSync(place('art/lens.psd'), lensArt('Ink', { holography: 0, ink: 0, white: 0, ...moved }))

const json = (ran: Ran) => JSON.parse(ran.out)

describe('approve and verify', () => {
  test('a decision is written, and all of it verifies', async () => {
    const version = await proofWritten()
    const ran = await approved(
      ...['--condition', 'subject to the lab’s sample; code to be verified'],
      ...['--viewing', 'p2,510,D50 booth,studio', '--display', 'laptop,D65,120,own,2026-03-01'],
      ...['--ask', 'Printer: for information; Director: final say', '--json'],
    )
    expect(ran).toMatchObject({ code: 0, err: '' })
    expect(json(ran)).toMatchObject({
      record: 'lens.signoff.json',
      version: version.id,
      proof: { name: 'lens.proof.html' },
      round: { state: { kind: 'decided', decision: 'Approved' } },
    })
    const record = parseRecord(readFileSync(recordFile(), 'utf8'), 'record')
    expect(record.entries[1]).toMatchObject({
      role: 'Obligated',
      conditions: ['subject to the lab’s sample', 'code to be verified'],
      viewing: { condition: 'P2', lux: 510, light: 'D50 booth', room: 'studio' },
      display: { kind: 'laptop', white: 'D65', luminance: 120, profile: 'own', calibratedOn: '2026-03-01' },
    })
    const verified = await runCli('verify', recordFile(), '--json')
    expect(verified).toMatchObject({ code: 0, err: '' })
    const { asSigned, lines, standing } = json(verified)
    expect(asSigned).toBe(true)
    expect(standing).toEqual({ kind: 'stands' })
    expect(lines.map((line: { what: string }) => line.what)).toEqual([
      'record',
      'job',
      'art',
      'profile',
      'asset',
      'proof',
    ])
  })

  test.each([
    ['art', () => writeFileSync(place('art/lens.psd'), 'no art any more'), 'new master and new plates'],
    ['art', () => drawnAnew({ ink: 1 }), 'new plates'],
    ['art', () => drawnAnew({ white: 1 }), 'new plates'],
    ['art', () => drawnAnew({ holography: 1 }), 'new master'],
    ['art', () => drawnAnew({ holography: 1, white: 2 }), 'new master and new plates'],
    // Behind the end of what it says.
    ['art', () => appendFileSync(place('art/lens.psd'), 'x'), 'nothing'],
    ['profile', () => writeFileSync(place('press.icc'), 'b profile'), 'new plates'],
    ['asset', () => writeFileSync(place('rings.png'), 'hEights'), 'new master'],
    ['job', () => save({ brief: 'Other' }), 'nothing'],
    ['job', () => save({ nestTurnDeg: 90 }), 'new master and new plates'],
    ['proof', () => appendFileSync(proofFile(), ' '), null],
  ] as const)('a changed byte of %s is named, and the exit code is 1: %#', async (what, change, cost) => {
    await proofWritten()
    await approved()
    change()
    const ran = await runCli('verify', recordFile(), '--json')
    expect(ran.code).toBe(1)
    expect(ran.err).toContain(`lens.signoff.json: ${what}: not as signed`)
    const { lines, standing } = json(ran)
    const wrong = lines.filter((line: { state: string }) => line.state !== 'same')
    expect(wrong).toMatchObject([{ what, state: 'changed', says: expect.stringMatching(/./) }])
    const told = await runCli('verify', recordFile())
    if (cost === null) expect(standing).toEqual({ kind: 'stands' })
    else expect(told.out).toContain(`Superseded. After release it costs: ${cost}.`)
  })

  test('so is one of the record, wherever it is, and then nothing else of it is believed', async () => {
    await proofWritten()
    await approved()
    const text = readFileSync(recordFile(), 'utf8')
    const flipped = (at: number) =>
      text.slice(0, at) + String.fromCharCode(text.charCodeAt(at) ^ 1) + text.slice(at + 1)
    for (const word of [
      '"Approved"',
      '"Client"',
      '2026-03-04',
      '"bytes": ',
      '"seal": "',
      'statement',
      '\n  "of"',
    ]) {
      writeFileSync(recordFile(), flipped(text.indexOf(word) + word.length - 2))
      const ran = await runCli('verify', recordFile())
      expect([word, ran.code]).toEqual([word, 1])
      expect(ran.err).toContain('lens.signoff.json')
    }
    writeFileSync(recordFile(), `\ufeff${text}`)
    expect((await runCli('verify', recordFile())).code).toBe(1)
    writeFileSync(recordFile(), text.replaceAll('\n', '\r\n'))
    const laid = await runCli('verify', recordFile())
    expect(laid.code).toBe(1)
    expect(laid.out).toContain('spaces, line ends or spellings of characters were changed')
    writeFileSync(recordFile(), text)
    expect((await runCli('verify', recordFile())).code).toBe(0)
  })

  test('what is gone is missing, and a record elsewhere is told where the job is', async () => {
    await proofWritten()
    await approved('-o', place('art/kept.signoff.json'))
    const lone = await runCli('verify', place('art/kept.signoff.json'), '--json')
    expect(lone.code).toBe(1)
    expect(
      json(lone)
        .lines.slice(1)
        .every((line: { state: string }) => line.state === 'missing'),
    ).toBe(true)
    expect((await runCli('verify', place('art/kept.signoff.json'), '--job', jobFile())).code).toBe(0)
    rmSync(place('rings.png'))
    const ran = await runCli('verify', place('art/kept.signoff.json'), '--job', jobFile(), '--json')
    expect(json(ran).lines).toContainEqual({
      what: 'asset',
      name: 'rings.png',
      state: 'missing',
      says: 'is not there',
    })
  })

  test('an edit begins a new record, which names the one before', async () => {
    await approved()
    const before = parseRecord(readFileSync(recordFile(), 'utf8'), 'record')
    save({ brief: 'A quieter lens' })
    expect((await approved()).err).toContain(`lens.${before.seal.slice(0, 8)}.signoff.json`)
    const verified = await runCli('verify', recordFile(), '--json')
    expect(verified.code).toBe(0)
    expect(json(verified).lines.at(-1)).toMatchObject({ what: 'earlier record', state: 'same' })
  })

  test('decisions that arrive at once are all in the record', async () => {
    expect((await approved()).code).toBe(0)
    const names = ['Printer', 'Lab', 'Buyer']
    const ran = await Promise.all(
      names.map(name =>
        launchCli('approve', jobFile(), '--as', name, '--role', 'must approve', '--decision', 'ok'),
      ),
    )
    expect(ran.map(one => one.code)).toEqual([0, 0, 0])
    const text = readFileSync(recordFile(), 'utf8')
    const record = parseRecord(text, 'record')
    expect(brokenIn(record, text)).toEqual([])
    const decided = record.entries.filter(one => one.kind === 'decision').map(one => one.by)
    expect(decided.sort()).toEqual(['Client', ...names].sort())
  })

  test.each([
    [
      ['--decision', 'fine', '--role', 'must approve'],
      '--decision: expected "OK", "OK with corrections", "New proof needed"',
    ],
    [
      ['--decision', 'OK', '--role', 'boss'],
      '--role: expected "must approve", "final say", "for information"',
    ],
    [['--decision', 'OK'], '--decision and --role go together'],
    [[], '--decision is missing, or --ask'],
    [['--ask', 'Printer'], '--ask: expected NAME: ROLE'],
    [['--decision', 'OK', '--role', 'final say', '--viewing', 'dark'], '--viewing: expected P1, P2, room'],
  ])('a command line that cannot be understood says why: %#', async (flags, message) => {
    const ran = await runCli('approve', jobFile(), '--as', 'Client', ...flags)
    expect(ran.code).toBe(2)
    expect(ran.err).toContain(message)
  })

  test('a decision that lacks its words, and a round that has ended, are refused', async () => {
    const say = (decision: string, ...more: string[]) =>
      runCli('approve', jobFile(), '--as', 'Director', '--role', 'final say', '--decision', decision, ...more)
    expect((await say('New proof needed')).err).toContain('does not say why')
    expect((await say('Rejected', '--reason', 'The rings are oval')).code).toBe(0)
    expect((await say('OK')).err).toContain('was ended by Director')
  })

  test('a record of a newer rakelight is not read', async () => {
    await approved()
    writeFileSync(recordFile(), readFileSync(recordFile(), 'utf8').replace('"version": 1', '"version": 9'))
    for (const ran of [await runCli('verify', recordFile()), await approved()]) {
      expect(ran.code).toBe(1)
      expect(ran.err).toContain('was written by a newer rakelight (version 9')
    }
  })
})

test('versions says what went out, what changed, and what an edit since would cost', async () => {
  expect((await runCli('versions', jobFile())).out).toContain('has no versions yet')
  const version = await proofWritten()
  const same = await runCli('versions', jobFile())
  expect(same.out).toContain('lens.proof.html')
  expect(same.out).toContain(`The job is as in ${version.id.slice(0, 8)}.`)
  save({ print: { ...job.print, toneGain: [0.2, 0, 0, 0] } })
  const after = await runCli('versions', jobFile())
  expect(after.out).toContain('after release that would cost: new plates.')
  expect(after.out).toContain('print, tone gain 1: ')
  expect(json(await runCli('versions', jobFile(), '--json')).since).toMatchObject([{ what: 'print' }])
})
