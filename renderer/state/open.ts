import type { ImportedArt } from '../../core/host/art.ts'
import type { Host } from '../../core/host/contract.ts'
import type { FileRef } from '../../core/host/file-ref.ts'
import type { OpenedJob, RecentRef } from '../../core/host/files.ts'
import type { AssetKindName } from '../../core/job/asset.ts'
import type { ArtReading, Job } from '../../core/job/job.ts'
import { wholeView } from '../../core/reference/camera.ts'
import { blankOpen } from './blank-art.ts'
import { inSession, inView, type OpenArt, type Question, runStart, type State } from './state.ts'
import { begin, unsaved } from './steps.ts'
import type { Store } from './store.ts'
import { report, say, withProgress } from './work.ts'

/** What a file dialog is for. */
export type Openable = 'art' | 'job' | 'any' | 'profile' | 'notes'

/** What art is chosen of: files of it, whatever can be opened, or a folder of one picture a plate. */
export type ArtPick = 'art' | 'any' | 'plates'

/** What the page does for the host when the host has no dialogs of its own. */
export interface PageFiles {
  /** Lets the user pick a file of this machine; null when dismissed. */
  pick(what: Openable): Promise<File | null>
  /** Lets the user pick art, which may be several files, or a folder of plates; none when dismissed. */
  pickArt(what: ArtPick): Promise<readonly File[]>
  /** Lets the user pick the files of an asset; none when dismissed. */
  pickAsset(kind: AssetKindName): Promise<readonly File[]>
  /** Hands a text or a file over as a download. */
  download(name: string, content: string | Blob): void
}

export interface Desk {
  readonly store: Store<State>
  readonly host: Host
  readonly page: PageFiles
  /** Names this window's unsaved work; the same after the page is loaded again. */
  readonly windowId: string
}

/** Asks who we are talking to and opens what the command line named. */
export async function start(desk: Desk): Promise<void> {
  try {
    const about = await desk.host('about', {})
    desk.store.set(state => inSession(state, { about }))
    await refreshRecent(desk)
    const drafts = await desk.host('drafts', { draftId: desk.windowId })
    if (drafts.length > 0) ask(desk, { kind: 'drafts', drafts })
    else if (about.start !== null) await openFile(desk, about.start)
  } catch (error) {
    report(desk.store, error)
  }
}

export async function refreshRecent(desk: Desk): Promise<void> {
  const recent = await desk.host('recent', {})
  desk.store.set(state => inSession(state, { recent }))
}

/** Open by dialog. */
export const openByDialog = (desk: Desk): void =>
  unlessUnsaved(desk, async () => {
    await openFiles(desk, await chooseArt(desk, 'any'))
  })

/** Opens a folder of one picture a plate by dialog. */
export const openPlates = (desk: Desk): void =>
  unlessUnsaved(desk, async () => {
    await openFiles(desk, await chooseArt(desk, 'plates'))
  })

/** Opens the demo carton, as a job that was never saved. */
export const openDemo = (desk: Desk): void =>
  unlessUnsaved(desk, async () => takeJob(desk, await desk.host('demo', {})))

/** Takes up work that an earlier sitting left unsaved. */
export async function openDraft(desk: Desk, draftId: string): Promise<void> {
  ask(desk, null)
  try {
    const opened = await desk.host('openDraft', { ownId: desk.windowId, draftId })
    // Another object for every field: nothing of it is in a file yet.
    await takeJob(desk, opened, structuredClone(opened.job))
    if (desk.store.get().session.art === null) return
    if (draftId !== desk.windowId) await desk.host('dropDraft', { draftId })
  } catch (error) {
    report(desk.store, error)
  }
}

/** Gives up work that an earlier sitting left unsaved; what the command line named is opened once nothing is left. */
export async function dropDraft(desk: Desk, draftId: string): Promise<void> {
  const { question } = desk.store.get().session
  if (question?.kind !== 'drafts') return
  await desk.host('dropDraft', { draftId }).catch(error => report(desk.store, error))
  const drafts = question.drafts.filter(one => one.id !== draftId)
  ask(desk, drafts.length === 0 ? null : { kind: 'drafts', drafts })
  if (drafts.length === 0) await openStart(desk)
}

/** Opens what the command line named. */
export async function openStart(desk: Desk): Promise<void> {
  ask(desk, null)
  const start = desk.store.get().session.about?.start
  if (start) await openFile(desk, start)
}

/** Open from the recent list. */
export const openRecent = (desk: Desk, file: RecentRef): void =>
  unlessUnsaved(desk, () => openFile(desk, file, file.beside))

/** Open by drop: art, a job, or a job together with its art. */
export const openDropped = (desk: Desk, files: readonly File[]): void =>
  unlessUnsaved(desk, async () => {
    await openFiles(desk, await Promise.all(files.map(file => desk.host.adopt(file))))
  })

async function openFiles(desk: Desk, refs: readonly FileRef[]): Promise<void> {
  const job = refs.find(ref => ref.kind === 'job')
  const art = artOf(refs)
  if (job === undefined) return art === null ? undefined : openFile(desk, ...art)
  await openFile(desk, job)
  const { question } = desk.store.get().session
  if (art !== null && question?.kind === 'art') await relink(desk, question.opened, ...art)
}

/** The first file of the art among those that were chosen, and the others; a drawing lies over an image. */
export function artOf(refs: readonly FileRef[]): readonly [FileRef, readonly FileRef[]] | null {
  const drawn = ({ name }: FileRef) => Number(/\.svg$/i.test(name))
  const [first, ...beside] = refs
    .filter(ref => ref.kind === 'art')
    .toSorted((a, b) => drawn(a) - drawn(b) || a.name.localeCompare(b.name))
  return first === undefined ? null : [first, beside]
}

/** Runs `next` at once, or after the user has said what becomes of unsaved decisions. */
export function unlessUnsaved(desk: Desk, next: () => Promise<void>): void {
  const go = () => void next().catch(error => report(desk.store, error))
  if (unsaved(desk.store.get())) ask(desk, { kind: 'unsaved', next: go })
  else go()
}

async function openFile(desk: Desk, file: FileRef, beside: readonly FileRef[] = []): Promise<void> {
  desk.store.set(state => inSession(state, { message: null, question: null }))
  try {
    if (file.kind === 'art') {
      const imported = await importArt(desk, file, { beside, asks: true })
      if (imported !== null) {
        lay(desk, openArt(file, imported), imported.job, imported.job, null)
        if (imported.art.format === 'plates') await sayPlates(desk, [file, ...beside])
      }
    } else {
      await takeJob(desk, await desk.host('openJob', { fileId: file.id }))
    }
    await refreshRecent(desk)
  } catch (error) {
    report(desk.store, error)
  }
}

async function sayPlates(desk: Desk, files: readonly FileRef[]): Promise<void> {
  const { plateNames } = await import('../../core/art/plate-name.ts')
  const names = plateNames(files.map(({ name }) => name))
  say(desk.store, `${names.length} plates by the names of their files: ${names.join(', ')}.`)
}

/** @param kept the job as its file has it */
async function takeJob(desk: Desk, opened: OpenedJob, kept: Job = opened.job): Promise<void> {
  if (opened.art.state === 'none') return lay(desk, blankOpen(opened.job), opened.job, kept, opened.file)
  if (opened.art.state !== 'found') {
    ask(desk, { kind: 'art', opened })
    return
  }
  const imported = await importArt(desk, opened.art.file, { reading: readingOf(opened.job) })
  if (imported !== null) lay(desk, openArt(opened.art.file, imported), opened.job, kept, opened.file)
}

/** The user agrees to read art outside the job's folder. */
export async function readOutside(desk: Desk, opened: OpenedJob): Promise<void> {
  ask(desk, null)
  if (opened.file === null) return
  try {
    await takeJob(desk, await desk.host('openJob', { fileId: opened.file.id, allowOutside: true }))
  } catch (error) {
    report(desk.store, error)
  }
}

/** The user picks the art of a job whose art is missing, changed or elsewhere. */
export async function pickArt(desk: Desk, opened: OpenedJob): Promise<void> {
  try {
    const art = artOf(await chooseArt(desk, 'art'))
    if (art !== null) await relink(desk, opened, ...art)
  } catch (error) {
    report(desk.store, error)
  }
}

/** Puts `file` under the job: at once when it is the same art, after a question when it is not. */
export async function relink(
  desk: Desk,
  opened: OpenedJob,
  file: FileRef,
  beside: readonly FileRef[] = [],
  evenIfOther = false,
): Promise<void> {
  ask(desk, null)
  try {
    const { beside: had, ...reading } = readingOf(opened.job)
    const how = beside.length > 0 || had === undefined ? reading : { ...reading, beside: had }
    const imported = await importArt(desk, file, { reading: how, beside })
    if (imported === null) return ask(desk, { kind: 'art', opened })
    if (sameArt(imported.job, opened.job))
      return lay(desk, openArt(file, imported), opened.job, opened.job, opened.file)
    if (!evenIfOther) return ask(desk, { kind: 'otherArt', opened, picked: file, beside })
    const { metAgain } = await import('../../core/job/relink.ts')
    const { job, change } = metAgain(opened.job, imported.job)
    const art = openArt(file, imported)
    if (change === null) return lay(desk, art, job, opened.job, opened.file)
    const { artChangeFinding } = await import('../../core/job/art-change.ts')
    const told = artChangeFinding(change)
    lay(desk, { ...art, findings: [told, ...art.findings] }, job, opened.job, opened.file)
    say(desk.store, `${file.name} is not as it was: ${told.message}.`)
  } catch (error) {
    ask(desk, { kind: 'art', opened })
    report(desk.store, error)
  }
}

/** How art is to be read. */
export interface ImportHow {
  readonly reading?: ArtReading
  /** Files that were chosen together with it. */
  readonly beside?: readonly FileRef[]
  /** Whether pages and ways of reading are asked about: art that no job has decided on yet. */
  readonly asks?: boolean
}

/** Reads art; a password, and where `asks` says so a page, is asked of the user. Null when that was left or stopped. */
export async function importArt(
  desk: Desk,
  file: FileRef,
  { reading = {}, beside = [], asks = false }: ImportHow = {},
): Promise<ImportedArt | null> {
  const read = ({ beside: had, ...how }: ArtReading, password: string | null) =>
    withProgress(desk.store, desk.host, `Reading ${file.name}`, true, taskId =>
      desk.host('importArt', {
        fileId: file.id,
        taskId,
        reading: had === undefined ? how : { ...how, beside: [...had] },
        besideIds: beside.map(one => one.id),
        password,
      }),
    )
  const imported = await read(reading, null).catch(async error => {
    const { isLocked, unlocked } = await import('./art-questions.ts')
    if (!isLocked(error)) throw error
    return unlocked(
      question => ask(desk, question),
      file,
      error,
      password => read(reading, password),
    )
  })
  if (!asks || imported?.art.page === undefined) return imported
  const { settled } = await import('./art-questions.ts')
  return settled(
    question => ask(desk, question),
    file,
    imported,
    how => read(how, null),
  )
}

/** How a job has its art read. */
export function readingOf({ art }: Job): ArtReading {
  if (art === null) return {}
  const { path: _, sha256: __, ...reading } = art
  return reading
}

function sameArt(a: Job, b: Job): boolean {
  const hashes = ({ art }: Job) => JSON.stringify([art?.sha256, art?.beside?.map(one => one.sha256)])
  return hashes(a) === hashes(b)
}

/** Lays art and job on the table. */
export function lay(desk: Desk, art: OpenArt, job: Job, kept: Job, jobFile: FileRef | null): void {
  desk.store.set(state => {
    const opened = inSession(begin(state, job, kept), { art, jobFile, built: null, question: null })
    return inView(opened, {
      card: null,
      drawing: null,
      marking: null,
      sheet: null,
      shown: null,
      spot: null,
      run: runStart,
      zoom: wholeView,
      compare: null,
    })
  })
}

/** Art that was read, as it lies on the table. */
export const openArt = (
  file: FileRef,
  { fileId, art, sha256, assigned, findings, state, job: { seen } }: ImportedArt,
): OpenArt => ({
  file: { ...file, id: fileId },
  art,
  sha256,
  assigned,
  findings,
  ...(seen === undefined ? {} : { seen }),
  state,
})

export async function choose(desk: Desk, what: Openable): Promise<FileRef | null> {
  if (desk.store.get().session.about?.files !== 'upload') return desk.host('chooseFile', { what })
  const file = await desk.page.pick(what)
  return file === null ? null : desk.host.adopt(file)
}

/** Lets the user choose art, which may be several files; none when dismissed. */
export async function chooseArt(desk: Desk, what: ArtPick): Promise<readonly FileRef[]> {
  if (desk.store.get().session.about?.files !== 'upload') return desk.host('chooseArt', { what })
  return Promise.all((await desk.page.pickArt(what)).map(file => desk.host.adopt(file)))
}

export const ask = (desk: Desk, question: Question | null): void =>
  desk.store.set(state => inSession(state, { question }))
