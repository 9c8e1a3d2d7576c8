import { basename, dirname, join, resolve } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import type { Handlers } from '../core/host/contract.ts'
import { blankFileId } from '../core/host/file-ref.ts'
import type { OpenedJob } from '../core/host/files.ts'
import type { Job } from '../core/job/job.ts'
import { checkJob, jobText, parseJob } from '../core/job/parse.ts'
import { findAssets, findFile } from './asset-places.ts'
import { layOutDemo } from './demo.ts'
import type { KnownFile } from './file-book.ts'
import { hashFile } from './hash-file.ts'
import { artPathFor, findBeside } from './job-art.ts'
import { type PageFiles, placeOf } from './page-files.ts'
import { platesIn } from './plate-folder.ts'
import { readText } from './read-text.ts'
import type { RecentFiles } from './recent.ts'
import { dialogsOf, type Shell } from './shell.ts'
import { safeName } from './upload.ts'
import { writeFileSafely } from './write-file.ts'

type Names = 'recent' | 'chooseArt' | 'chooseFile' | 'openJob' | 'demo' | 'saveJob' | 'saveFile'

/** Jobs and files, chosen, opened and saved. */
export function jobHandlers(shell: Shell, files: PageFiles, recent: RecentFiles): Pick<Handlers, Names> {
  const { book, assets } = files

  const openedJob = async (file: KnownFile, allowOutside: boolean): Promise<OpenedJob> => {
    const job = parseJob(await readText(file.path), file.ref.name)
    const { profile } = job.print
    // An upload lies alone, here as with the art.
    if (file.origin === 'path') {
      assets.note(await findAssets(file.path, job, allowOutside))
      for (const one of [...(job.art?.beside ?? []), ...(profile === null ? [] : [profile])])
        assets.noteFile(one, await findFile(file.path, one, allowOutside))
    }
    return { file: file.ref, name: file.ref.name, job, art: await artOf(file, job.art, allowOutside) }
  }

  const artOf = async (
    jobFile: KnownFile,
    art: Job['art'],
    allowOutside: boolean,
  ): Promise<OpenedJob['art']> => {
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

  const askWhere = (art: KnownFile | null): Promise<string | null> => {
    if (art === null) return dialogsOf(shell).saveJob('carton.job.json')
    const name = `${art.ref.name.replace(/\.[^.]*$/, '')}.job.json`
    return dialogsOf(shell).saveJob(art.origin === 'path' ? join(dirname(art.path), name) : name)
  }

  return {
    recent: async () =>
      (await recent.list()).map(({ path, beside, folder, openedAt }) => ({
        ...book.note(path).ref,
        beside: beside.map(one => book.note(one).ref),
        folder,
        openedAt,
      })),

    chooseArt: async ({ what }) => {
      const chosen = await dialogsOf(shell).openArt(what)
      const paths = what === 'plates' ? (await Promise.all(chosen.map(platesIn))).flat() : chosen
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
          sha256: await files.hashOf(artFileId),
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
  }
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
