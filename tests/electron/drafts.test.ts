import { spawnSync } from 'node:child_process'
import { mkdtempSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { blankJob } from '../../core/job/new.ts'
import { type Draft, Drafts } from '../../electron/drafts.ts'
import { RecentFiles } from '../../electron/recent.ts'

/** Our own rules, no outside source: nothing is lost, and nothing of a running window is taken. */

let folder: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-drafts-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

const draft = (savedAt = Date.now()): Draft => ({
  job: blankJob(60, 90),
  artPath: null,
  artName: 'a job without art',
  jobPath: null,
  files: [],
  savedAt,
})

/** A process id that no longer runs. */
const goneId = (): number => spawnSync(process.execPath, ['-e', '']).pid

describe('drafts', () => {
  it('of a process that runs are its own; of this window they are found again', async () => {
    const drafts = new Drafts(folder)
    await drafts.keep('here', draft())
    expect(await drafts.left('other')).toEqual([])
    expect((await drafts.left('here')).map(one => one.id)).toEqual(['here'])
  })

  it('of a process that is gone are found, newest first, whole', async () => {
    const drafts = new Drafts(folder)
    const mine = draft(Date.now() - 5000)
    await drafts.keep('old', mine)
    await drafts.keep('new', draft())
    for (const name of readdirSync(join(folder, 'drafts')))
      renameSync(
        join(folder, 'drafts', name),
        join(folder, 'drafts', name.replace(`.${process.pid}.`, `.${goneId()}.`)),
      )
    const left = await new Drafts(folder).left('window')
    expect(left.map(one => one.id)).toEqual(['new', 'old'])
    expect(left[1]?.draft).toEqual(mine)
  })

  it('go when they are dropped; what is no draft, or too old, goes by itself', async () => {
    const drafts = new Drafts(folder)
    await drafts.keep('here', draft())
    await drafts.drop('here')
    await drafts.keep('aged', draft(Date.now() - 100 * 24 * 3600_000))
    writeFileSync(join(folder, 'drafts', `torn.${goneId()}.draft.json`), '{"job":')
    expect(await drafts.left('aged')).toEqual([])
    expect(readdirSync(join(folder, 'drafts'))).toEqual([])
  })
})

describe('recent files', () => {
  it('many are kept, newest first, with folder and time; a list of an older version is read', async () => {
    const places = Array.from({ length: 30 }, (_, i) => join(folder, `front-${i}.psd`))
    for (const place of places) writeFileSync(place, '')
    writeFileSync(join(folder, 'recent.json'), JSON.stringify([places[0], 'gone.psd']))
    const recent = new RecentFiles(folder)
    for (const place of places.slice(1)) await recent.add(place)
    const list = await recent.list()
    expect(list).toHaveLength(30)
    expect(list[0]?.path).toBe(places[29])
    expect(list[0]?.openedAt).toBeGreaterThan(Date.now() - 60_000)
    expect(list.at(-1)).toMatchObject({ path: places[0], openedAt: null, folder: folder.split('/').at(-1) })
  })

  it('art of several files is kept with all of them, and left out once one is gone', async () => {
    const [cyan = '', ...others] = ['Cyan', 'Magenta', 'White'].map(name => join(folder, `cap (${name}).png`))
    for (const place of [cyan, ...others]) writeFileSync(place, '')
    await new RecentFiles(folder).add(cyan, others)
    const recent = new RecentFiles(folder)
    expect(await recent.list()).toMatchObject([{ path: cyan, beside: others }])
    rmSync(others[1] ?? '')
    expect(await recent.list()).toEqual([])
  })
})
