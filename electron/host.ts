import { basename, dirname, join, resolve } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { usualTurning } from '../core/effects/object/turn.ts'
import type { AddedAsset, FileRef, Handlers, ImportedArt, OpenedJob } from '../core/host/contract.ts'
import type { Job } from '../core/job/job.ts'
import { newJob } from '../core/job/new.ts'
import { checkJob, jobText, parseJob } from '../core/job/parse.ts'
import { AssetBook } from './asset-book.ts'
import { assetFiles, findAssets, findFile } from './asset-places.ts'
import { viewPicture } from './asset-views.ts'
import { FileBook, type KnownFile } from './file-book.ts'
import { openFile } from './file-source.ts'
import { hashFile } from './hash-file.ts'
import { artPathFor, findArt } from './job-art.ts'
import { workerFile } from './places.ts'
import { readText } from './read-text.ts'
import { RecentFiles } from './recent.ts'
import { RunningTasks } from './running.ts'
import type { Dialogs, HostSide, Shell } from './shell.ts'
import { WorkerPool } from './worker-pool.ts'
import type { ArtCrafts } from './workers/art.ts'
import { writeFileSafely } from './write-file.ts'

/** The handlers of every request, for the desktop window and the loopback server alike. */
export function createHost(shell: Shell): HostSide {
  const book = new FileBook()
  const recent = new RecentFiles(shell.dataFolder)
  const tasks = new RunningTasks()
  // Previews have a thread of their own, so that neither they nor the map wait for each other.
  const heavy = new WorkerPool<ArtCrafts>(workerFile('art'), 1)
  const light = new WorkerPool<ArtCrafts>(workerFile('art'), 1)
  const assets = new AssetBook()
  /** SHA-256 of the art that was read, by file id: what a saved job will name. */
  const hashes = new Map<string, string>()

  const handlers: Handlers = {
    about: async () => ({
      version: shell.version,
      shell: shell.kind,
      files: shell.dialogs === null ? 'upload' : 'dialog',
      start: shell.startPath === null ? null : book.note(shell.startPath).ref,
    }),

    recent: async () => (await recent.list()).map(path => book.note(path).ref),

    chooseFile: async ({ what }) => {
      const path = await dialogsOf(shell).open(what)
      return path === null ? null : book.note(path).ref
    },

    openJob: async ({ fileId, allowOutside }) => {
      const file = book.get(fileId)
      const job = parseJob(await readText(file.path), file.ref.name)
      // An upload lies alone, here as with the art.
      if (file.origin === 'path') assets.note(await findAssets(file.path, job, allowOutside))
      const { profile } = job.print
      if (file.origin === 'path' && profile !== null)
        assets.noteFile(profile, await findFile(file.path, profile, allowOutside))
      if (file.origin === 'path') await recent.add(file.path)
      return { file: file.ref, job, art: await artOf(file, job, allowOutside) }
    },

    importArt: ({ fileId, taskId }) =>
      tasks.run(taskId, async (task): Promise<ImportedArt> => {
        const { ref, path, origin } = book.get(fileId)
        const read = await heavy.run('import', { path }, task)
        hashes.set(fileId, read.sha256)
        if (origin === 'path') await recent.add(path)
        return { fileId, ...read, job: newJob(read.art, read.sha256, ref.name, read.assigned) }
      }),

    assignRoles: async ({ fileId, job }) => {
      const { path } = book.get(fileId)
      return { assigned: await light.run('roles', { path, job: checkJob(job, 'the job') }) }
    },

    preview: ({ fileId, job, target, show, size }) => {
      const { path } = book.get(fileId)
      return light.run('preview', { path, job: checkJob(job, 'the job'), target, show, size })
    },

    buildMap: ({ fileId, taskId, job }) =>
      tasks.run(taskId, task => {
        const { path } = book.get(fileId)
        const checked = checkJob(job, 'the job')
        const profile = checked.print.profile && assets.placeFile(checked.print.profile)
        return heavy.run('map', { path, job: checked, assets: assets.place(checked.assets), profile }, task)
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
      const art = book.get(artFileId)
      const own = fileId === null ? null : book.get(fileId)
      const path = own === null ? await askWhere(art) : placeOf(own)
      if (path === null) return null
      if (resolve(path) === art.path) throw overArt(art)
      const sha256 = hashes.get(artFileId) ?? (await hashFile(art.path))
      const saved: Job = {
        ...job,
        art: { path: artPathFor(path, art.path), sha256 },
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

    progress: async ({ taskId }) => tasks.progress(taskId),

    cancel: async ({ taskId }) => {
      tasks.stop(taskId)
      return null
    },
  }

  async function artOf(jobFile: KnownFile, job: Job, allowOutside: boolean): Promise<OpenedJob['art']> {
    const missing = { state: 'missing', path: job.art.path } as const
    const place = await findArt(jobFile.path, job, allowOutside)
    // An upload lies alone: whatever it names is on the other side of the browser.
    if (jobFile.origin === 'upload' || place.state === 'missing') return missing
    const file = book.note(place.path, basename(place.path), 'path', place.state === 'found')
    if (place.state === 'outside') return { state: 'outside', file: file.ref }
    const same = (await hashFile(place.path)) === job.art.sha256
    return { state: same ? 'found' : 'changed', file: file.ref }
  }

  function askWhere(art: KnownFile): Promise<string | null> {
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
      await Promise.all([heavy.close(), light.close()])
    },
  }
}

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
