import { basename } from 'node:path'
import { partOf } from '../core/base/task.ts'
import type { Handlers } from '../core/host/contract.ts'
import { besideJob, fileStem } from '../core/proof/names.ts'
import { artHandlers } from './art-handlers.ts'
import { assetHandlers } from './asset-handlers.ts'
import { checkHandlers } from './check-handlers.ts'
import { ComparePair } from './compare-pair.ts'
import { draftHandlers } from './draft-handlers.ts'
import { Drafts } from './drafts.ts'
import { openFile } from './file-source.ts'
import { fileState } from './file-state.ts'
import { jobHandlers } from './job-handlers.ts'
import { KeptWork } from './kept-work.ts'
import { MapMaker } from './map-maker.ts'
import { PageFiles, placeOf } from './page-files.ts'
import { workerFile } from './places.ts'
import { proofHandlers } from './proof-handlers.ts'
import { RecentFiles } from './recent.ts'
import { RunningTasks } from './running.ts'
import type { HostSide, Shell } from './shell.ts'
import { signHandlers } from './sign-handlers.ts'
import { signoffPath } from './signoff-book.ts'
import { signOffOrder } from './signoff-sheet.ts'
import { WorkerPool } from './worker-pool.ts'
import type { ArtCrafts } from './workers/art.ts'
import type { CheckCrafts, PictureCrafts } from './workers/check.ts'
import type { PicturesCrafts } from './workers/pictures.ts'
import type { PlateCrafts } from './workers/plates.ts'

/** The handlers of every request, for the desktop window and the loopback server alike. */
export function createHost(shell: Shell): HostSide {
  const files = new PageFiles()
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
  let opened: Promise<KeptWork> | null = null
  /** Results of long work that an earlier sitting left. */
  const kept = (): Promise<KeptWork> => {
    opened ??= fileState(workerFile('art')).then(
      program => new KeptWork(shell.dataFolder, `${shell.version} ${program}`),
    )
    return opened
  }

  const maps = new MapMaker(heavy, kept)
  const { book } = files

  const handlers: Handlers = {
    about: async () => ({
      version: shell.version,
      shell: shell.kind,
      files: shell.dialogs === null ? 'upload' : 'dialog',
      start: shell.startPath === null ? null : book.note(shell.startPath).ref,
    }),

    ...jobHandlers(shell, files, recent),
    ...draftHandlers(drafts, files),
    ...artHandlers({ files, recent, tasks, heavy, light, maps, kept }),
    ...assetHandlers({ shell, files, tasks, light }),
    ...checkHandlers({ files, tasks, checks }),

    makeStills: ({ fileId, taskId, job, jobName, wish }) =>
      tasks.run(taskId, task => {
        const names = { stem: fileStem(jobName), software: `rakelight ${shell.version}` }
        return sending.run('stills', { ...files.ofJob(fileId, job), ...names, wish }, task)
      }),

    makeSignOffPdf: ({ fileId, jobFileId, taskId, job }) =>
      tasks.run(taskId, async task => {
        const jobPath = placeOf(book.get(jobFileId))
        const now = files.ofJob(fileId, job)
        const at = new Date().toISOString()
        const { sheet, pictured } = await signOffOrder(signoffPath(jobPath), now, at, partOf(task, 0, 0.05))
        const own = pictured === null ? null : { ...now, job: pictured }
        const bytes = await sending.run('signoff', { sheet, pictured: own }, partOf(task, 0.05, 1))
        const name = basename(jobPath)
        return { name: besideJob(name, 'printed'), bytes, title: `Sign-off of ${name}` }
      }),

    ...signHandlers({
      jobPath: id => placeOf(book.get(id)),
      notesPath: id => book.get(id).path,
      filesOf: (artFileId, job) => files.ofJob(artFileId, job),
      layersOf: ({ art, job }) => light.run('layers', { art, job }),
      run: (taskId, work) => tasks.run(taskId, work),
      pair,
    }),

    ...proofHandlers({
      jobPlace: id => {
        const { path, origin } = book.get(id)
        return origin === 'path' ? path : null
      },
      filesOf: (artFileId, job) => files.ofJob(artFileId, job),
      run: (taskId, work) => tasks.run(taskId, work),
      make: (of, order, task) => checks.run('proof', { ...of, order }, task),
      makeSheet: (of, order, task) => sending.run('sheet', { ...of, ...order }, task),
      makePlates: (of, order, task) => platePool.run('plates', { ...of, ...order }, task),
    }),

    progress: async ({ taskId }) => tasks.progress(taskId),

    cancel: async ({ taskId }) => {
      tasks.stop(taskId)
      return null
    },
  }

  return {
    handlers,
    adopt: async (path, name, origin) => {
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
