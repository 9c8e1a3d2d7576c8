import { stat } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { partOf } from '../core/base/task.ts'
import { usualTurning } from '../core/effects/object/turn.ts'
import type { ImportedArt } from '../core/host/art.ts'
import type { AddedAsset } from '../core/host/assets.ts'
import type { Handlers } from '../core/host/contract.ts'
import { blankFileId, type FileRef } from '../core/host/file-ref.ts'
import type { OpenedJob } from '../core/host/files.ts'
import type { AssetFile } from '../core/job/asset.ts'
import type { ArtReading, Job } from '../core/job/job.ts'
import { newJob } from '../core/job/new.ts'
import { checkJob, jobText, parseJob } from '../core/job/parse.ts'
import { besideJob, fileStem } from '../core/proof/names.ts'
import type { JobWork, ReadArt } from './art-work.ts'
import { AssetBook } from './asset-book.ts'
import { assetFiles, findAssets, findFile } from './asset-places.ts'
import { viewPicture } from './asset-views.ts'
import { ComparePair } from './compare-pair.ts'
import { layOutDemo } from './demo.ts'
import { Drafts } from './drafts.ts'
import { FileBook, type KnownFile } from './file-book.ts'
import { openFile } from './file-source.ts'
import { hashFile } from './hash-file.ts'
import { artPathFor, findBeside } from './job-art.ts'
import { KeptWork } from './kept-work.ts'
import { mapInputs } from './map-inputs.ts'
import { MapMaker } from './map-maker.ts'
import type { PlacedArt } from './placed-art.ts'
import { workerFile } from './places.ts'
import { proofHandlers } from './proof-handlers.ts'
import { readText } from './read-text.ts'
import { RecentFiles } from './recent.ts'
import { RunningTasks } from './running.ts'
import type { Dialogs, HostSide, Shell } from './shell.ts'
import { signHandlers } from './sign-handlers.ts'
import { signoffPath } from './signoff-book.ts'
import { signOffOrder } from './signoff-sheet.ts'
import { safeName } from './upload.ts'
import type { JobFiles } from './version-sources.ts'
import { WorkerPool } from './worker-pool.ts'
import type { ArtCrafts } from './workers/art.ts'
import type { CheckCrafts, PictureCrafts } from './workers/check.ts'
import type { PicturesCrafts } from './workers/pictures.ts'
import type { PlateCrafts } from './workers/plates.ts'
import { writeFileSafely } from './write-file.ts'

/** The handlers of every request, for the desktop window and the loopback server alike. */
export function createHost(shell: Shell): HostSide {
  const book = new FileBook()
  const recent = new RecentFiles(shell.dataFolder)
  const drafts = new Drafts(shell.dataFolder)
  const tasks = new RunningTasks()
  // Previews have a thread of their own, so that neither they nor the map wait for each other.
  const heavy = new WorkerPool<ArtCrafts>(workerFile('art'), 1)
  const light = new WorkerPool<ArtCrafts>(workerFile('art'), 1)
  // Checks are asked for now and then and are long; the picture must not wait for them.
  const checks = new WorkerPool<CheckCrafts & PictureCrafts>(workerFile('check'), 1)
  // What goes out takes minutes; neither checks nor the picture wait for it.
  const sending = new WorkerPool<PicturesCrafts>(workerFile('pictures'), 1)
  const platePool = new WorkerPool<PlateCrafts>(workerFile('plates'), 1)
  const pair = new ComparePair()
  const assets = new AssetBook()
  /** SHA-256 of the art that was read, by file id: what a saved job will name. */
  const hashes = new Map<string, string>()
  /** How that file stood when it was read: a map is kept only for art that is still the same. */
  const states = new Map<string, string | null>()
  /** Of locked files, by path: they are forgotten when the program ends. */
  const passwords = new Map<string, string>()
  let opened: Promise<KeptWork> | null = null
  /** Results of long work that an earlier sitting left. */
  const kept = (): Promise<KeptWork> => {
    opened ??= fileState(workerFile('art')).then(
      program => new KeptWork(shell.dataFolder, `${shell.version} ${program}`),
    )
    return opened
  }

  const maps = new MapMaker(heavy, kept)

  const handlers: Handlers = {
    about: async () => ({
      version: shell.version,
      shell: shell.kind,
      files: shell.dialogs === null ? 'upload' : 'dialog',
      start: shell.startPath === null ? null : book.note(shell.startPath).ref,
    }),

    recent: async () =>
      (await recent.list()).map(({ path, folder, openedAt }) => ({
        ...book.note(path).ref,
        folder,
        openedAt,
      })),

    chooseArt: async ({ what }) => {
      const paths = await dialogsOf(shell).openArt(what)
      return paths.map(path => book.note(path).ref)
    },

    chooseFile: async ({ what }) => {
      const path = await dialogsOf(shell).open(what)
      return path === null ? null : book.note(path).ref
    },

    openJob: async ({ fileId, allowOutside }) => {
      const file = book.get(fileId)
      const opened = await openedJob(file, allowOutside)
      if (file.origin === 'path') await recent.add(file.path)
      return opened
    },

    demo: async () => ({
      ...(await openedJob(book.note(await layOutDemo(shell.dataFolder)), false)),
      file: null,
    }),

    artState: async ({ fileId, beside }) => {
      if (fileId === blankFileId) return null
      return book.get(fileId).origin === 'upload' ? null : artStateOf(fileId, beside)
    },

    keepDraft: async ({ draftId, fileId, artFileId, job: given }) => {
      const job = checkJob(given, 'the job')
      const art = artFileId === blankFileId ? null : book.get(artFileId)
      const own = fileId === null ? null : book.get(fileId)
      await drafts.keep(draftId, {
        job,
        artPath: art?.path ?? null,
        artName: art?.ref.name ?? 'a job without art',
        jobPath: own?.origin === 'path' ? own.path : null,
        files: assets.foundFor(job),
        savedAt: Date.now(),
      })
      return null
    },

    drafts: async ({ draftId }) =>
      (await drafts.left(draftId)).map(({ id, draft }) => ({
        id,
        name: draft.jobPath === null ? draft.artName : basename(draft.jobPath),
        savedAt: draft.savedAt,
      })),

    openDraft: async ({ ownId, draftId }): Promise<OpenedJob> => {
      const draft = (await drafts.left(ownId)).find(one => one.id === draftId)?.draft
      if (draft === undefined) throw goneDraft
      const { job, jobPath, artPath } = draft
      // Its window had read these files: the user agreed to them then.
      for (const { sha256, path } of draft.files) await assets.again(sha256, path)
      const file = jobPath === null ? null : book.note(jobPath).ref
      const name = jobPath === null ? draft.artName : basename(jobPath)
      if (job.art === null || artPath === null) return { file, name, job, art: { state: 'none' } }
      if ((await fileState(artPath)) === null)
        return { file, name, job, art: { state: 'missing', path: job.art.path } }
      const same = (await hashFile(artPath)) === job.art.sha256
      return {
        file,
        name,
        job,
        art: { state: same ? 'found' : 'changed', file: book.note(artPath, draft.artName).ref },
      }
    },

    dropDraft: async ({ draftId }) => {
      await drafts.drop(draftId)
      return null
    },

    importArt: ({ fileId, taskId, reading: given, besideIds, password }) =>
      tasks.run(taskId, async (task): Promise<ImportedArt> => {
        const { ref, path, origin } = book.get(fileId)
        const reading = await readingOf(given, besideIds)
        if (password !== null) passwords.set(path, password)
        const state = await artStateOf(fileId, reading.beside ?? [])
        const art = placedArt(fileId, reading.beside ?? [])
        const store = await kept()
        const inputs = [ref.name, await hashFile(path, partOf(task, 0, 0.1)), reading]
        // What is locked stays so: nothing of it is kept.
        const before = art.password === null ? await store.get<ReadArt>('art', inputs) : null
        const read = before ?? (await heavy.run('import', { art, reading }, partOf(task, 0.1, 1)))
        if (before === null && art.password === null) store.put('art', inputs, read)
        hashes.set(fileId, read.sha256)
        states.set(fileId, state)
        if (origin === 'path') await recent.add(path)
        return { fileId, ...read, job: newJob(read.art, read.sha256, ref.name, read.assigned, reading) }
      }),

    artPages: ({ fileId, taskId, beside, size }) =>
      tasks.run(taskId, task => light.run('pages', { art: placedArt(fileId, beside), size }, task)),

    assignRoles: async ({ fileId, job }) => {
      const checked = checkJob(job, 'the job')
      return { assigned: await light.run('roles', { art: artFor(fileId, checked), job: checked }) }
    },

    preview: ({ fileId, job, target, show, size }) => {
      const checked = checkJob(job, 'the job')
      return light.run('preview', { art: artFor(fileId, checked), job: checked, target, show, size })
    },

    buildMap: ({ fileId, taskId, job, from, soon }) =>
      tasks.run(taskId, async task => {
        const work = workOf(checkJob(job, 'the job'))
        const art = artFor(fileId, work.job)
        const { job: checked, assets: placed, profile } = work
        // Of locked art nothing is kept.
        const sha256 = art?.password == null ? await unchanged(fileId, checked) : null
        const files = [...placed.flatMap(asset => asset.files), ...(profile === null ? [] : [profile])]
        const stands = await Promise.all(
          files.map(file => (file.path === null ? null : fileState(file.path))),
        )
        const inputs = sha256 === null ? null : mapInputs(sha256, checked, stands)
        return maps.build({ art, work, inputs, from, soon }, task)
      }),

    runChecks: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('check', wishOf(fileId, job), task)),

    slipPicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('slips', wishOf(fileId, job), task)),

    accountPicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('account', wishOf(fileId, job), task)),

    flashPicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('flashes', wishOf(fileId, job), task)),

    heatPicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('heat', wishOf(fileId, job), task)),

    typePicture: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => checks.run('type', wishOf(fileId, job), task)),

    whitePicture: ({ fileId, taskId, job, size }) =>
      tasks.run(taskId, task => checks.run('white', { ...wishOf(fileId, job), size }, task)),

    framePicture: ({ fileId, taskId, job, ...view }) =>
      tasks.run(taskId, task => checks.run('frame', { ...wishOf(fileId, job), ...view }, task)),

    makeStills: ({ fileId, taskId, job, jobName, wish }) =>
      tasks.run(taskId, task => {
        const names = { stem: fileStem(jobName), software: `rakelight ${shell.version}` }
        return sending.run('stills', { ...wishOf(fileId, job), ...names, wish }, task)
      }),

    makeSignOffPdf: ({ fileId, jobFileId, taskId, job }) =>
      tasks.run(taskId, async task => {
        const jobPath = placeOf(book.get(jobFileId))
        const files = wishOf(fileId, job)
        const at = new Date().toISOString()
        const { sheet, pictured } = await signOffOrder(signoffPath(jobPath), files, at, partOf(task, 0, 0.05))
        const own = pictured === null ? null : { ...files, job: pictured }
        const bytes = await sending.run('signoff', { sheet, pictured: own }, partOf(task, 0.05, 1))
        const name = basename(jobPath)
        return { name: besideJob(name, 'printed'), bytes, title: `Sign-off of ${name}` }
      }),

    addProfile: async ({ fileId }) => {
      const { ref, path, origin } = book.get(fileId)
      // Read once, so that what is no print condition is refused here and not when the map is built.
      const name = await light.run('profile', { path })
      const [file] = await assets.add([{ name: ref.name, path, alone: origin === 'upload' }])
      if (file === undefined) throw new Error('a profile was lost')
      return { file, name }
    },

    chooseAsset: async ({ kind }) => {
      const paths = await dialogsOf(shell).openAsset(kind)
      return paths.map(path => book.note(path).ref)
    },

    addAsset: ({ kind, fileIds, taskId }) =>
      tasks.run(taskId, async (task): Promise<AddedAsset> => {
        const chosen = fileIds.map(id => book.get(id))
        const files = await assetFiles(
          kind,
          chosen.map(({ ref, path, origin }) => ({ name: ref.name, path, alone: origin === 'upload' })),
        )
        const added = await assets.add(files, task)
        const asset = {
          id: kind,
          files: added,
          ...(kind === 'model' ? { kind, turning: usualTurning } : { kind }),
        }
        // Read once, so that what is not fit is refused here and not when the map is built.
        const placed = assets.place([asset])[0]
        if (placed === undefined) throw new Error('an asset was lost')
        const { findings } = await light.run('asset', { placed }, task)
        return { files: added, findings }
      }),

    assetPictures: async ({ job, assetId, size }) => {
      const asset = checkJob(job, 'the job').assets.find(one => one.id === assetId)
      const [placed] = asset === undefined ? [] : assets.place([asset])
      if (placed === undefined || placed.files.every(file => file.path === null))
        return { pictures: [], findings: [] }
      const { views, findings } = await light.run('asset', { placed })
      return { pictures: views.map(view => viewPicture(view, size)), findings }
    },

    saveJob: async ({ fileId, artFileId, job: given }) => {
      const job = checkJob(given, 'the job')
      const art = artFileId === blankFileId ? null : book.get(artFileId)
      const own = fileId === null ? null : book.get(fileId)
      const path = own === null ? await askWhere(art) : placeOf(own)
      if (path === null) return null
      if (art !== null && resolve(path) === art.path) throw overArt(art)
      const saved: Job = {
        ...job,
        art: art && {
          ...job.art,
          path: artPathFor(path, art.path),
          sha256: hashes.get(artFileId) ?? (await hashFile(art.path)),
          ...(job.art?.beside ? { beside: job.art.beside.map(one => assets.namedFile(one, path)) } : {}),
        },
        assets: assets.named(job.assets, path),
        print: {
          ...job.print,
          profile: job.print.profile && assets.namedFile(job.print.profile, path),
        },
      }
      await writeFileSafely(path, jobText(saved))
      await recent.add(path)
      return { file: book.note(path).ref, job: saved }
    },

    saveFile: async ({ name, bytes, artFileId }) => {
      const art = artFileId === blankFileId ? null : book.get(artFileId)
      const shown = safeName(name)
      const path = await dialogsOf(shell).saveFile(
        art?.origin === 'path' ? join(dirname(art.path), shown) : shown,
      )
      if (path === null) return null
      if (art !== null && resolve(path) === art.path) throw overArt(art)
      await writeFileSafely(path, bytes)
      return { name: basename(path), folder: basename(dirname(path)) }
    },

    ...signHandlers({
      jobPath: id => placeOf(book.get(id)),
      notesPath: id => book.get(id).path,
      filesOf: (artFileId, job) => wishOf(artFileId, job),
      layersOf: ({ art, job }) => light.run('layers', { art, job }),
      run: (taskId, work) => tasks.run(taskId, work),
      pair,
    }),

    ...proofHandlers({
      jobPlace: id => {
        const { path, origin } = book.get(id)
        return origin === 'path' ? path : null
      },
      filesOf: (artFileId, job) => wishOf(artFileId, job),
      run: (taskId, work) => tasks.run(taskId, work),
      make: (files, order, task) => checks.run('proof', { ...files, order }, task),
      makeSheet: (files, order, task) => sending.run('sheet', { ...files, ...order }, task),
      makePlates: (files, order, task) => platePool.run('plates', { ...files, ...order }, task),
    }),

    progress: async ({ taskId }) => tasks.progress(taskId),

    cancel: async ({ taskId }) => {
      tasks.stop(taskId)
      return null
    },
  }

  /** A job with all that a worker needs of it. */
  const wishOf = (fileId: string, job: unknown): JobFiles => {
    const work = workOf(checkJob(job, 'the job'))
    return { art: artFor(fileId, work.job), ...work }
  }

  /** A job with its files where they were found. */
  const workOf = (job: Job): JobWork => ({
    job,
    assets: assets.place(job.assets),
    profile: job.print.profile && assets.placeFile(job.print.profile),
  })

  /** Null stands for a panel without art. */
  const artFor = (fileId: string, job: Job): PlacedArt | null =>
    fileId === blankFileId ? null : placedArt(fileId, job.art?.beside ?? [])

  /** Art with the files beside it, as they were chosen or found. Throws BadInput where one is not to be had. */
  function placedArt(fileId: string, beside: readonly AssetFile[]): PlacedArt {
    const { path } = book.get(fileId)
    const places = beside.map(file => {
      const place = assets.placeFile(file).path
      if (place !== null) return place
      throw new BadInput(
        'art-missing',
        file.path,
        'the file',
        'belongs to the art and is not there, or was not agreed to',
        'Put it back, or open the art anew with all its files',
      )
    })
    return { path, beside: places, password: passwords.get(path) ?? null }
  }

  /** How art is read, with files that were just chosen beside those that a job had. */
  async function readingOf(
    { beside: had = [], ...reading }: ArtReading,
    besideIds: readonly string[],
  ): Promise<ArtReading> {
    const chosen = besideIds.map(id => book.get(id))
    const known = had.map(file => ({ name: file.path, path: assets.placeFile(file).path }))
    const files = [
      ...known.flatMap(({ name, path }) => (path === null ? [] : [{ name, path, alone: false }])),
      ...chosen.map(({ ref, path, origin }) => ({ name: ref.name, path, alone: origin === 'upload' })),
    ]
    const beside = await assets.add(files)
    return beside.length === 0 ? reading : { ...reading, beside }
  }

  /** How the files of the art stand on the disk; null when one is gone. */
  async function artStateOf(fileId: string, beside: readonly AssetFile[]): Promise<string | null> {
    const places = [book.get(fileId).path, ...beside.map(file => assets.placeFile(file).path)]
    const all = await Promise.all(places.map(place => (place === null ? null : fileState(place))))
    return all.includes(null) ? null : all.join(', ')
  }

  /** The hash of art that is still as it was read; null for art that is not, and '' where there is none yet. */
  async function unchanged(fileId: string, { art }: Job): Promise<string | null> {
    if (fileId === blankFileId) return ''
    const state = states.get(fileId)
    if (state === undefined || state === null) return null
    return (await artStateOf(fileId, art?.beside ?? [])) === state ? (hashes.get(fileId) ?? null) : null
  }

  async function openedJob(file: KnownFile, allowOutside: boolean): Promise<OpenedJob> {
    const job = parseJob(await readText(file.path), file.ref.name)
    // An upload lies alone, here as with the art.
    if (file.origin === 'path') assets.note(await findAssets(file.path, job, allowOutside))
    if (file.origin === 'path')
      for (const one of job.art?.beside ?? [])
        assets.noteFile(one, await findFile(file.path, one, allowOutside))
    const { profile } = job.print
    if (file.origin === 'path' && profile !== null)
      assets.noteFile(profile, await findFile(file.path, profile, allowOutside))
    return { file: file.ref, name: file.ref.name, job, art: await artOf(file, job.art, allowOutside) }
  }

  async function artOf(
    jobFile: KnownFile,
    art: Job['art'],
    allowOutside: boolean,
  ): Promise<OpenedJob['art']> {
    if (art === null) return { state: 'none' }
    const missing = { state: 'missing', path: art.path } as const
    const place = await findBeside(jobFile.path, art.path, allowOutside)
    // An upload lies alone: whatever it names is on the other side of the browser.
    if (jobFile.origin === 'upload' || place.state === 'missing') return missing
    const file = book.note(place.path, basename(place.path), 'path', place.state === 'found')
    if (place.state === 'outside') return { state: 'outside', file: file.ref }
    const beside = (art.beside ?? []).map(one => assets.placeFile(one))
    const lost = beside.find(one => one.path === null)
    if (lost !== undefined)
      return lost.state === 'outside'
        ? { state: 'outside', file: file.ref }
        : { state: 'missing', path: lost.name }
    const same = (await hashFile(place.path)) === art.sha256 && beside.every(one => one.state === 'found')
    return { state: same ? 'found' : 'changed', file: file.ref }
  }

  function askWhere(art: KnownFile | null): Promise<string | null> {
    if (art === null) return dialogsOf(shell).saveJob('carton.job.json')
    const name = `${art.ref.name.replace(/\.[^.]*$/, '')}.job.json`
    return dialogsOf(shell).saveJob(art.origin === 'path' ? join(dirname(art.path), name) : name)
  }

  return {
    handlers,
    adopt: async (path, name, origin): Promise<FileRef> => {
      const file = await openFile(path, name)
      await file.close()
      return book.note(path, name, origin).ref
    },
    close: async () => {
      // The desktop asks before it closes over unsaved work; a server is stopped without a question.
      if (shell.kind === 'desktop') await drafts.dropOwn()
      await maps.close().catch(() => undefined)
      await Promise.all([
        heavy.close(),
        light.close(),
        checks.close(),
        sending.close(),
        platePool.close(),
        pair.close(),
        kept().then(store => store.written()),
      ])
    },
  }
}

const goneDraft = new BadInput(
  'draft-gone',
  'the unsaved work',
  'its copy',
  'is no longer there',
  'Open the job or its art',
)

/** Size, time and place of a file; another after it was written again. */
const fileState = (path: string): Promise<string | null> =>
  stat(path).then(
    info => `${info.size} ${info.mtimeMs} ${info.ino}`,
    () => null,
  )

function dialogsOf(shell: Shell): Dialogs {
  if (shell.dialogs !== null) return shell.dialogs
  throw new BadInput(
    'no-dialogs',
    'this window',
    'the request',
    'has no file dialogs of its own',
    'Drop the file on the page, or download the job',
  )
}

function overArt(art: KnownFile): BadInput {
  return new BadInput(
    'same-file',
    art.ref.name,
    'the place',
    'is that of the art itself',
    'Choose another name',
  )
}

/** The place a job is saved to again; an upload has none that the user could find. */
function placeOf(file: KnownFile): string {
  if (file.origin === 'path') return file.path
  throw new BadInput(
    'no-place',
    file.ref.name,
    'the file',
    'came by upload, so there is no place to save it to',
    'Download the job instead',
  )
}
