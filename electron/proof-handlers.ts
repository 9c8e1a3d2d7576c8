import { basename } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { sha256Hex } from '../core/base/sha256.ts'
import { partOf, type Task } from '../core/base/task.ts'
import type { MadePlates } from '../core/export/plate-wish.ts'
import type { Handlers } from '../core/host/contract.ts'
import type { MadeProof } from '../core/host/proofs.ts'
import { besideJob, jobStem } from '../core/proof/names.ts'
import type { SignedFile } from '../core/proof/signoff.ts'
import { type ProofVersion, shortId } from '../core/proof/version.ts'
import { readNotes } from './note-book.ts'
import { version as program } from './places.ts'
import type { PlateOrder } from './plate-work.ts'
import type { ProofOrder } from './proof-work.ts'
import type { SheetOrder } from './sheet-work.ts'
import { addVersion } from './version-book.ts'
import { type JobFiles, versionNow } from './version-sources.ts'
import { viewerScripts } from './viewer-scripts.ts'

/** What these handlers ask of the host. */
interface ProofHost {
  /** Where a saved job lies; null for one that has no place on this machine. Throws BadInput for an id that is none. */
  jobPlace(jobFileId: string): string | null
  /** A job of the page with its files where they were found. */
  filesOf(artFileId: string, job: unknown): JobFiles
  run<T>(taskId: string, work: (task: Task) => Promise<T>): Promise<T>
  make(files: JobFiles, order: ProofOrder, task: Task): Promise<MadeProof>
  makeSheet(files: JobFiles, order: SheetOrder, task: Task): Promise<Uint8Array<ArrayBuffer>>
  makePlates(files: JobFiles, order: PlateOrder, task: Task): Promise<MadePlates>
}

/** Proofs of one sitting that may yet go out; of older ones nothing is known. */
const mostKept = 20

/** Proofs of a page's job. */
export function proofHandlers(
  host: ProofHost,
): Pick<Handlers, 'makeProof' | 'makeProofSheet' | 'makePlates' | 'proofOut'> {
  const kept = new Map<string, { readonly of: ProofVersion; readonly file: Omit<SignedFile, 'name'> }>()
  const keep = (of: ProofVersion, bytes: Uint8Array): void => {
    kept.set(of.id, { of, file: { sha256: sha256Hex(bytes), bytes: bytes.length } })
    for (const id of [...kept.keys()].slice(0, -mostKept)) kept.delete(id)
  }
  return {
    makeProof: ({ fileId, jobFileId, jobName, taskId, job, budget, checked }) =>
      host.run(taskId, async task => {
        const files = host.filesOf(fileId, job)
        const place = jobFileId === null ? null : host.jobPlace(jobFileId)
        const name = place === null ? jobName : basename(place)
        const of = await versionNow(files, name, new Date().toISOString(), partOf(task, 0, 0.05))
        const notes = place === null ? [] : (await readNotes(place)).notes
        const order = { of, notes, budget, checked, scripts: await viewerScripts() }
        const made = await host.make(files, order, partOf(task, 0.05, 1))
        keep(of, made.bytes)
        return { ...made, name: besideJob(name, 'proof') }
      }),

    makeProofSheet: ({ fileId, jobFileId, jobName, taskId, job }) =>
      host.run(taskId, async task => {
        const files = host.filesOf(fileId, job)
        const place = jobFileId === null ? null : host.jobPlace(jobFileId)
        const name = place === null ? jobName : basename(place)
        const version = await versionNow(files, name, new Date().toISOString(), partOf(task, 0, 0.05))
        const notes = place === null ? [] : (await readNotes(place)).notes
        const bytes = await host.makeSheet(files, { version, notes }, partOf(task, 0.05, 1))
        keep(version, bytes)
        return { id: version.id, name: besideJob(name, 'sheet'), bytes, title: `Proof sheet of ${name}` }
      }),

    makePlates: ({ fileId, taskId, job, jobName, wish }) =>
      host.run(taskId, async task => {
        const files = host.filesOf(fileId, job)
        const of = await versionNow(files, jobName, new Date().toISOString(), partOf(task, 0, 0.05))
        const label = { jobName: jobStem(jobName), program, version: shortId(of.id), madeAt: of.madeAt }
        const made = await host.makePlates(files, { wish, label }, partOf(task, 0.05, 1))
        const [first] = made.files
        if (first !== undefined) keep(of, first.bytes)
        return { id: of.id, ...made }
      }),

    proofOut: async ({ jobFileId, id, name }) => {
      const place = host.jobPlace(jobFileId)
      const made = kept.get(id)
      if (made === undefined)
        throw new BadInput('proof-gone', 'the proof', id.slice(0, 8), 'was not made here', 'Make it again')
      if (place !== null) await addVersion(place, made.of, { ...made.file, name })
      return null
    },
  }
}
