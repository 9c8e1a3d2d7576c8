import { createHash } from 'node:crypto'
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import type { Answers, RequestName } from '../../core/host/contract.ts'
import { dispatch } from '../../core/host/dispatch.ts'
import type { Job } from '../../core/job/job.ts'
import { jobText, parseJob } from '../../core/job/parse.ts'
import { createHost } from '../../electron/host.ts'
import { buildFromJob, openJob } from '../../electron/open-job.ts'
import { shippedProfile } from '../../electron/press.ts'
import type { HostSide } from '../../electron/shell.ts'
import { build } from '../../scripts/build.mjs'
import { lensArt } from '../support/lens-art.ts'
import { runCli } from '../support/run-cli.ts'
import { wholeMap } from '../support/whole-map.ts'

/** The profile of a print condition beside a job, on real files and real worker threads. No outside source: our own contract. */

let folder: string
let host: HostSide
let chosen: string

const place = (...parts: string[]) => join(folder, ...parts)
const hashOf = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex')
const shipped = new Uint8Array(readFileSync(shippedProfile))
/** The same profile with the letters of a screen in its head. */
const screen = Uint8Array.from(shipped)
screen.set(new TextEncoder().encode('mntrRGB '), 12)

async function ask<N extends RequestName>(name: N, input: unknown): Promise<Answers[N]> {
  const reply = await dispatch(host.handlers, name, input)
  if (!reply.ok) throw new Error(`${reply.code}: ${reply.message}`)
  return reply.value as Answers[N]
}

/** A job beside the art whose print has these fields; small, so that its map is made soon. */
async function jobWith(print: Partial<Job['print']>): Promise<Job> {
  await runCli('job', place('lens.psd'), '-o', place('lens.job.json'))
  const made = parseJob(readFileSync(place('lens.job.json'), 'utf8'), 'lens.job.json')
  const job: Job = {
    ...made,
    panel: { ...made.panel, resolutionPpi: 20 },
    print: { ...made.print, ...print },
  }
  writeFileSync(place('lens.job.json'), jobText(job))
  return job
}

const built = async (allowOutside = false) =>
  buildFromJob(await openJob(place('lens.job.json'), allowOutside))

beforeAll(() => build('workers'))

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-profile-'))
  writeFileSync(place('lens.psd'), lensArt())
  mkdirSync(place('press'))
  writeFileSync(place('press', 'own.icc'), shipped)
  chosen = place('press', 'own.icc')
  host = createHost({
    kind: 'desktop',
    version: '1.2.3',
    dialogs: {
      open: async what => (what === 'profile' ? chosen : place('lens.psd')),
      openArt: async () => [],
      openAsset: async () => [],
      saveFile: async () => null,
      saveJob: async () => place('lens.job.json'),
    },
    dataFolder: place('data'),
    startPath: null,
  })
})

afterEach(async () => {
  await host.close()
  rmSync(folder, { recursive: true, force: true })
})

describe('the print profile of a job', () => {
  test('is the one that ships where the job names none, in the intent that it asks for', async () => {
    await jobWith({ intent: 'absolute' })
    const { map, findings } = await built()
    expect(map.print?.name).toBe('ISO Coated v2 300% (basICColor)')
    expect(map.print?.rendering.intent).toBe('absolute')
    expect(findings.filter(one => one.code.startsWith('profile'))).toEqual([])
  })

  test('is chosen, saved relative to the job and found again', async () => {
    const file = await ask('chooseFile', { what: 'profile' })
    const added = await ask('addProfile', { fileId: file?.id })
    expect(added).toEqual({
      file: { path: 'own.icc', sha256: hashOf(shipped) },
      name: 'ISO Coated v2 300% (basICColor)',
    })
    const art = await ask('chooseFile', { what: 'art' })
    const job = await jobWith({ profile: added.file })
    const saved = await ask('saveJob', { fileId: null, artFileId: art?.id, job })
    expect(saved?.job.print.profile?.path).toBe('press/own.icc')
    const { findings, map } = await built()
    expect(map.print).not.toBeNull()
    expect(findings.filter(one => one.code.startsWith('profile'))).toEqual([])
    // The window builds from it too.
    const shown = await ask('buildMap', { fileId: art?.id, taskId: 't', job: saved?.job })
    expect(wholeMap(shown).print?.factors.length).toBe(map.print?.factors.length)
  })

  test('is named on the command line, and its intent', async () => {
    const flags = ['--profile', place('press', 'own.icc'), '--intent', 'absolute']
    const run = await runCli('job', place('lens.psd'), '-o', place('own.job.json'), ...flags)
    expect(run.code).toBe(0)
    const { print } = parseJob(readFileSync(place('own.job.json'), 'utf8'), 'own.job.json')
    expect(print.profile).toEqual({ path: 'press/own.icc', sha256: hashOf(shipped) })
    expect(print.intent).toBe('absolute')
    const wrong = await runCli('job', place('lens.psd'), '-o', place('b.job.json'), '--intent', 'vivid')
    expect(wrong.code).toBe(2)
    expect(wrong.err).toContain('--intent: expected perceptual, relative, saturation, absolute, got "vivid"')
  })

  test.each<[string, string, string]>([
    ['missing', 'press/gone.icc', 'is not there; the profile that ships stands in'],
    ['outside', '../own.icc', "lies outside the job's folder and was not read"],
    ['changed', 'press/own.icc', 'is not the file that the job was made with'],
  ])('%s: said, and the picture goes on', async (state, path, says) => {
    await jobWith({ profile: { path, sha256: 'a'.repeat(64) } })
    const { map, findings } = await built()
    expect(map.print?.name).toBe('ISO Coated v2 300% (basICColor)')
    const found = findings.find(one => one.code === `profile-${state}`)
    expect(found?.message).toContain(says)
  })

  test('one for a screen is refused where it is chosen and where a job names it', async () => {
    writeFileSync(place('press', 'screen.icc'), screen)
    chosen = place('press', 'screen.icc')
    const file = await ask('chooseFile', { what: 'profile' })
    await expect(ask('addProfile', { fileId: file?.id })).rejects.toThrow(
      /profile-class: screen\.icc: colour profile: describes a screen, not printing/,
    )
    await jobWith({ profile: { path: 'press/screen.icc', sha256: hashOf(screen) } })
    await expect(built()).rejects.toThrow(/describes a screen/)
    const run = await runCli('probe', place('lens.job.json'), '--x', '5', '--y', '5')
    expect(run.code).toBe(1)
    expect(run.err).toMatch(/^rakelight: screen\.icc: colour profile: describes a screen/m)
  })
})
