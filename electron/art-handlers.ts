import { partOf } from '../core/base/task.ts'
import type { ImportedArt } from '../core/host/art.ts'
import type { Handlers } from '../core/host/contract.ts'
import { blankFileId } from '../core/host/file-ref.ts'
import { newJob } from '../core/job/new.ts'
import type { ReadArt } from './art-work.ts'
import { fileState } from './file-state.ts'
import { hashFile } from './hash-file.ts'
import type { KeptWork } from './kept-work.ts'
import { mapInputs } from './map-inputs.ts'
import type { MapMaker } from './map-maker.ts'
import type { PageFiles } from './page-files.ts'
import type { RecentFiles } from './recent.ts'
import type { RunningTasks } from './running.ts'
import type { WorkerPool } from './worker-pool.ts'
import type { ArtCrafts } from './workers/art.ts'

/** What these handlers ask of the host. */
interface ArtHost {
  readonly files: PageFiles
  readonly recent: RecentFiles
  readonly tasks: RunningTasks
  /** For art read whole. */
  readonly heavy: WorkerPool<ArtCrafts>
  /** For what the page waits for. */
  readonly light: WorkerPool<ArtCrafts>
  readonly maps: MapMaker
  /** Results of long work that an earlier sitting left. */
  readonly kept: () => Promise<KeptWork>
}

type Names = 'importArt' | 'artPages' | 'artState' | 'assignRoles' | 'preview' | 'buildMap'

/** Art of the page, and the map of its job. */
export function artHandlers({
  files,
  recent,
  tasks,
  heavy,
  light,
  maps,
  kept,
}: ArtHost): Pick<Handlers, Names> {
  return {
    importArt: ({ fileId, taskId, reading: given, besideIds, password }) =>
      tasks.run(taskId, async (task): Promise<ImportedArt> => {
        const { ref, path, origin } = files.book.get(fileId)
        const reading = await files.readingOf(given, besideIds)
        if (password !== null) files.unlock(fileId, password)
        const state = await files.artState(fileId, reading.beside ?? [])
        const art = files.placedArt(fileId, reading.beside ?? [])
        const store = await kept()
        const inputs = [ref.name, await hashFile(path, partOf(task, 0, 0.1)), reading]
        // What is locked stays so: nothing of it is kept.
        const before = art.password === null ? await store.get<ReadArt>('art', inputs) : null
        const read = before ?? (await heavy.run('import', { art, reading }, partOf(task, 0.1, 1)))
        if (before === null && art.password === null) store.put('art', inputs, read)
        files.noteRead(fileId, read, state)
        if (origin === 'path') await recent.add(path, art.beside)
        const { seen, ...found } = read
        const job = newJob(read.art, read.sha256, ref.name, read.assigned, reading, seen)
        return { fileId, ...found, state, job }
      }),

    artPages: ({ fileId, taskId, beside, size }) =>
      tasks.run(taskId, task => light.run('pages', { art: files.placedArt(fileId, beside), size }, task)),

    artState: async ({ fileId, beside }) => {
      if (fileId === blankFileId) return null
      return files.book.get(fileId).origin === 'upload' ? null : files.artState(fileId, beside)
    },

    assignRoles: async ({ fileId, job: given }) => {
      const { art, job } = files.ofJob(fileId, given)
      return { assigned: await light.run('roles', { art, job }) }
    },

    preview: async ({ fileId, job: given, target, show, size }) => {
      const { art, job } = files.ofJob(fileId, given)
      return light.run('preview', { art, job, target, show, size })
    },

    buildMap: ({ fileId, taskId, job: given, from, soon }) =>
      tasks.run(taskId, async task => {
        const { art, ...work } = files.ofJob(fileId, given)
        const { job, assets, profile } = work
        // Of locked art nothing is kept.
        const sha256 = art?.password == null ? await files.unchanged(fileId, job) : null
        const placed = [...assets.flatMap(asset => asset.files), ...(profile === null ? [] : [profile])]
        const stands = await Promise.all(
          placed.map(file => (file.path === null ? null : fileState(file.path))),
        )
        const inputs = sha256 === null ? null : mapInputs(sha256, job, stands)
        return maps.build({ art, work, inputs, from, soon }, task)
      }),
  }
}
