import * as v from 'valibot'
import type { Art } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { HolographyAccount } from '../checks/accounting/account.ts'
import type { FlashMap } from '../checks/glare/flash-map.ts'
import type { LegibilityResult } from '../checks/legibility/result.ts'
import type { SlipPicture } from '../checks/register/slip-picture.ts'
import type { CheckList } from '../checks/run.ts'
import type { HeatMap } from '../checks/sweep/heat-map.ts'
import type { WhitePicture } from '../checks/white/picture.ts'
import type { DifferenceNumbers } from '../export/light-difference.ts'
import {
  type MadePlates,
  mostBleedMm,
  type PlateWish,
  plateFormats,
  plateUses,
  readings,
} from '../export/plate-wish.ts'
import { type MadeFile, stillKinds, stillLimits } from '../export/stills/wish.ts'
import { type AssetFile, assetKinds } from '../job/asset.ts'
import type { Job } from '../job/job.ts'
import { artReading, besideFiles } from '../job/schema/art.ts'
import type { MapChange } from '../material/change.ts'
import type { FirstLook } from '../material/first-look.ts'
import type { MaterialMap } from '../material/map.ts'
import { budgetLimits, usualBudget } from '../proof/budget.ts'
import type { JobChange } from '../proof/changes.ts'
import type { NotesMark } from '../proof/merge-notes.ts'
import type { NotesFile } from '../proof/notes.ts'
import { type Broken, signWish } from '../proof/read-signoff.ts'
import type { Round } from '../proof/round.ts'
import type { SignoffRecord } from '../proof/signoff.ts'
import type { SignoffStanding } from '../proof/standing.ts'
import type { Assigned } from '../roles/role.ts'
import type { MadeProof } from './proofs.ts'

/** Files are known to a page by an id only; paths stay with the host. */
const fileId = v.pipe(v.string(), v.regex(/^[A-Za-z0-9_-]{1,64}$/))
const taskId = fileId
/** Parsed again by `parseJob` in the handler, which says which field is wrong. */
const anyJob = v.record(v.string(), v.unknown())
const target = v.object({ kind: v.picklist(['layer', 'channel']), id: v.string() })

/** SHA-256. */
const versionId = v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/))

const degrees = v.pipe(v.number(), v.minValue(-720), v.maxValue(720))
/** A file's name that a page gives: it goes into words and into names of files that the host makes up. */
const jobName = v.pipe(v.string(), v.minLength(1), v.maxLength(400))
const stillSide = v.pipe(v.number(), v.integer(), v.minValue(stillLimits.least), v.maxValue(stillLimits.side))
const cellSide = v.pipe(v.number(), v.integer(), v.minValue(stillLimits.least), v.maxValue(stillLimits.cell))
const angles = (most: number) => {
  const deg = v.pipe(v.number(), v.minValue(-most), v.maxValue(most))
  const count = v.pipe(v.number(), v.integer(), v.minValue(1), v.maxValue(stillLimits.angles))
  return v.object({ fromDeg: deg, toDeg: deg, count })
}
const stillsWish = v.object({
  what: v.pipe(v.array(v.picklist(stillKinds)), v.minLength(1)),
  format: v.variant('kind', [
    v.object({ kind: v.picklist(['png', 'tiff']), depth: v.picklist([8, 16]) }),
    v.object({ kind: v.literal('exr'), depth: v.picklist([16, 32]) }),
  ]),
  width: stillSide,
  height: stillSide,
  contact: v.object({
    tilt: angles(stillLimits.tiltDeg),
    turn: angles(stillLimits.turnDeg),
    cellWidth: cellSide,
    cellHeight: cellSide,
  }),
})
const pictureSide = v.pipe(v.number(), v.integer(), v.minValue(16), v.maxValue(512))

export interface FileRef {
  readonly id: string
  readonly name: string
  readonly kind: 'art' | 'job'
}

export interface About {
  readonly version: string
  readonly shell: 'desktop' | 'browser'
  /** `dialog`: the host asks for files itself. `upload`: the page hands them over and saves by download. */
  readonly files: 'dialog' | 'upload'
  /** Given on the command line. */
  readonly start: FileRef | null
}

/** Art without its profile bytes, with the roles that the rules found. */
export interface ImportedArt {
  readonly fileId: string
  readonly art: Art
  readonly sha256: string
  readonly assigned: readonly Assigned[]
  readonly findings: readonly Finding[]
  /** A fresh job for this art, as `rakelight job` would write it. */
  readonly job: Job
}

/** A file that was open before. Its path stays with the host; the folder's own name tells two of a name apart. */
export interface RecentRef extends FileRef {
  readonly folder: string
  /** Milliseconds since 1970; null when nobody noted it. */
  readonly openedAt: number | null
}

/** Work that was not saved when its window ended. */
export interface DraftRef {
  readonly id: string
  /** Of the job's file, or of its art. */
  readonly name: string
  /** Milliseconds since 1970. */
  readonly savedAt: number
}

/** The id that stands for the panel of a job without art. */
export const blankFileId = 'blank'

export interface OpenedJob {
  /** Null for work that was never saved. */
  readonly file: FileRef | null
  /** For messages. */
  readonly name: string
  readonly job: Job
  /** `outside`: the art lies outside the job's folder and nobody has agreed to read it yet. */
  readonly art:
    | { readonly state: 'found' | 'changed' | 'outside'; readonly file: FileRef }
    | { readonly state: 'missing'; readonly path: string }
    /** The job has no art yet. */
    | { readonly state: 'none' }
}

/** A file that was written; its path stays with the host. */
export interface WrittenFile {
  readonly name: string
  /** The folder's own name. */
  readonly folder: string
}

/** RGBA, 8 bits, row by row. */
export interface Picture {
  readonly width: number
  readonly height: number
  readonly rgba: Uint8Array
}

/** Files that were read and found fit, as a job names them until it is saved. */
export interface AddedAsset {
  readonly files: readonly AssetFile[]
  readonly findings: readonly Finding[]
}

/** A print condition's profile that was read and found fit, as a job names it until it is saved. */
export interface AddedProfile {
  readonly file: AssetFile
  /** The profile's own name. */
  readonly name: string
}

/** What an asset shows: its views from left to right, or its heights. */
export interface AssetPictures {
  readonly pictures: readonly Picture[]
  readonly findings: readonly Finding[]
}

/** The pages of a file, for one of them to be chosen. */
export interface ArtPages {
  readonly count: number
  /** The first ones; of a very long file not all. */
  readonly pages: readonly {
    /** From 1. */
    readonly number: number
    /** Finished size, mm: of the trim, else of all that is read. */
    readonly widthMm: number
    readonly heightMm: number
    /** Null where it cannot be read; the reason is said when it is opened. */
    readonly picture: Picture | null
  }[]
}

export interface BuiltMap {
  /** Names what the map was made from: the page says it when it asks for the next. */
  readonly id: string
  /** The map with its coarser levels, finest first, or what differs from those that the page holds. */
  readonly shown:
    | { readonly kind: 'whole'; readonly levels: readonly MaterialMap[] }
    | { readonly kind: 'change'; readonly change: MapChange }
    /** The map that the page holds stays; what it differs in is asked for next. */
    | { readonly kind: 'look'; readonly look: FirstLook }
  readonly assigned: readonly Assigned[]
  readonly findings: readonly Finding[]
}

/** A version that went out. */
export interface VersionRef {
  readonly id: string
  /** ISO 8601, UTC. */
  readonly madeAt: string
  /** Versions of rakelight and of its tables. */
  readonly program: string
  readonly data: string
  /** Names of the files that show it, newest last, relative to the job. */
  readonly files: readonly string[]
  /** What differs from the version before it; none for the first. */
  readonly changes: readonly JobChange[]
}

export interface AddedNotes {
  readonly file: NotesFile
  /** Notes and answers that were not there before. */
  readonly added: number
}

export interface SignoffState {
  /** File name of the record. */
  readonly name: string
  readonly record: SignoffRecord
  readonly round: Round
  /** Where the record is not what its own hashes say; none where all fits. */
  readonly broken: readonly Broken[]
  /** Against the job and its files as they are now; null where the record cannot be trusted. */
  readonly standing: SignoffStanding | null
}

export interface ComparedPictures {
  /** What a screen shows of each, sRGB. */
  readonly a: Picture
  readonly b: Picture
  /** By the colours of `differenceSteps`. */
  readonly difference: Picture
  readonly numbers: DifferenceNumbers
  /** From A to B. */
  readonly changes: readonly JobChange[]
}

/** Every request between window and host: what goes in (parsed) and what comes out (typed). */
export const requests = {
  about: v.object({}),
  recent: v.object({}),
  /** Shows the host's own dialog; null when dismissed. */
  chooseFile: v.object({ what: v.picklist(['art', 'job', 'any', 'profile', 'notes']) }),
  /** The same for art, which may be several files, and for whatever can be opened; none when dismissed. */
  chooseArt: v.object({ what: v.picklist(['art', 'any']) }),
  /** `allowOutside`: the user agreed to read art that lies outside the job's folder. */
  openJob: v.object({ fileId, allowOutside: v.optional(v.boolean(), false) }),
  /**
   * Reads art. `reading`: how, and the files beside it that a job names; `besideIds`: those that were chosen together with
   * it just now. A password is held until the program ends.
   */
  importArt: v.object({
    fileId,
    taskId,
    reading: v.optional(artReading, {}),
    besideIds: v.optional(v.pipe(v.array(fileId), v.maxLength(64)), []),
    password: v.optional(v.nullable(v.pipe(v.string(), v.maxLength(1000))), null),
  }),
  /** Small pictures of the pages of a file, longest side at most `size`. */
  artPages: v.object({
    fileId,
    taskId,
    beside: v.optional(besideFiles, []),
    size: v.pipe(v.number(), v.integer(), v.minValue(16), v.maxValue(512)),
  }),
  /** Roles again after the job changed (aliases, choices), without reading the file again. */
  assignRoles: v.object({ fileId, job: anyJob }),
  /** `amount`: the coverage read from the layer, grey; `colour`: as the file shows it. Longest side at most `size`. */
  preview: v.object({
    fileId,
    target,
    show: v.picklist(['colour', 'amount']),
    job: anyJob,
    size: v.pipe(v.number(), v.integer(), v.minValue(16), v.maxValue(1024)),
  }),
  /**
   * `from`: id of the map that the page holds and gives up for the next; then only what changed comes. `soon`: where that
   * takes long, a first look may come instead.
   */
  buildMap: v.object({
    fileId,
    taskId,
    job: anyJob,
    from: v.optional(v.nullable(v.pipe(v.string(), v.maxLength(64))), null),
    soon: v.optional(v.boolean(), false),
  }),
  /** Runs every check over the job; findings come worst first, with the job's waivers. */
  runChecks: v.object({ fileId, taskId, job: anyJob }),
  /** What shows when groups of plates slip: shared edges, and the worst slips within tolerance. */
  slipPicture: v.object({ fileId, taskId, job: anyJob }),
  /** Where the holography that is paid for goes; null where the job has no tables to judge by. */
  accountPicture: v.object({ fileId, taskId, job: anyJob }),
  /** Which panel lights up at which lamp and eye place. */
  flashPicture: v.object({ fileId, taskId, job: anyJob }),
  /** How bright every place of the art gets over all views. */
  heatPicture: v.object({ fileId, taskId, job: anyJob }),
  /** How every piece of type reads in every view. */
  typePicture: v.object({ fileId, taskId, job: anyJob }),
  /** White before and after the job's recipe made one of the art. Longest side at most `size`. */
  whitePicture: v.object({
    fileId,
    taskId,
    job: anyJob,
    size: v.pipe(v.number(), v.integer(), v.minValue(16), v.maxValue(2048)),
  }),
  /** The exact picture of the job held so, lamp and eye where it has them, all printed on one another. */
  framePicture: v.object({
    fileId,
    taskId,
    job: anyJob,
    held: v.object({ tiltForwardDeg: degrees, tiltSideDeg: degrees, turnDeg: degrees }),
    zoom: v.object({
      scale: v.pipe(v.number(), v.minValue(0.1), v.maxValue(100)),
      x: v.pipe(v.number(), v.finite()),
      y: v.pipe(v.number(), v.finite()),
    }),
    width: pictureSide,
    height: pictureSide,
  }),
  /** Pictures of the job as files, for the page to save: over tilt and turn, frames of the glare check, panels, lights. */
  makeStills: v.object({ fileId, taskId, job: anyJob, jobName, wish: stillsWish }),
  /** A proof sheet for a meeting, PDF, for the page to save. `proofOut` lists it when it went out. */
  makeProofSheet: v.object({ fileId, jobFileId: v.nullable(fileId), jobName, taskId, job: anyJob }),
  /** The record of a saved job's sign-off, to be printed: PDF, for the page to save. */
  makeSignOffPdf: v.object({ fileId, jobFileId: fileId, taskId, job: anyJob }),
  /** A profile that the user chose becomes the print condition. */
  addProfile: v.object({ fileId }),
  /** Shows the host's own dialog for one or more files; none when dismissed. */
  chooseAsset: v.object({ kind: v.picklist(assetKinds) }),
  /** Files that the user chose become an asset of that kind. */
  addAsset: v.object({
    kind: v.picklist(assetKinds),
    fileIds: v.pipe(v.array(fileId), v.minLength(1), v.maxLength(1000)),
    taskId,
  }),
  /** Longest side at most `size`. */
  assetPictures: v.object({
    job: anyJob,
    assetId: v.string(),
    size: v.pipe(v.number(), v.integer(), v.minValue(16), v.maxValue(1024)),
  }),
  /** Saves to the job's own file, or asks for a name when `fileId` is null. Null when dismissed. */
  saveJob: v.object({ fileId: v.nullable(fileId), artFileId: fileId, job: anyJob }),
  /** Separations of the job as files, to be handed on, the PDF first. `proofOut` lists them when they went out. */
  makePlates: v.object({
    fileId,
    taskId,
    job: anyJob,
    jobName,
    wish: v.object({
      use: v.picklist(plateUses),
      reading: v.object({
        white: v.picklist(readings),
        inks: v.picklist(readings),
        varnish: v.picklist(readings),
      }),
      marks: v.boolean(),
      bleedMm: v.pipe(v.number(), v.minValue(0), v.maxValue(mostBleedMm)),
      plates: v.nullable(v.pipe(v.array(v.pipe(v.string(), v.maxLength(200))), v.maxLength(200))),
      formats: v.pipe(v.array(v.picklist(plateFormats)), v.minLength(1), v.maxLength(3)),
    }) satisfies v.GenericSchema<PlateWish>,
  }),
  /** Writes something that goes out, whole or not at all, where the user says. Null when dismissed. */
  saveFile: v.object({
    name: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
    bytes: v.instance(Uint8Array),
    artFileId: fileId,
  }),
  /** Lays the demo carton out in the data folder and opens its job as one that was never saved. */
  demo: v.object({}),
  /** How the file stands on the disk: another text after another save. Null when it is gone or cannot change. */
  artState: v.object({ fileId, beside: v.optional(besideFiles, []) }),
  /** Keeps unsaved work in the data folder, under an id that the window keeps as long as it lives. */
  keepDraft: v.object({ draftId: fileId, fileId: v.nullable(fileId), artFileId: fileId, job: anyJob }),
  /** Work that was left unsaved by windows that are gone, and by this one before it was loaded again. */
  drafts: v.object({ draftId: fileId }),
  openDraft: v.object({ ownId: fileId, draftId: fileId }),
  dropDraft: v.object({ draftId: fileId }),
  /** Versions of a saved job that went out, newest first. */
  versions: v.object({ jobFileId: fileId }),
  /** The notes beside a saved job. */
  notes: v.object({ jobFileId: fileId }),
  /** Adds notes and answers to those beside the job; whatever is there stays. Parsed again by `checkNoteList`. */
  addNotes: v.object({ jobFileId: fileId, notes: v.array(v.unknown()) }),
  /** Lays notes that came back in a file to those beside the job. */
  mergeNotes: v.object({ jobFileId: fileId, notesFileId: fileId }),
  /** The record of the job's sign-off and how it stands against the job as it is now; null where there is none. */
  signoff: v.object({ jobFileId: fileId, artFileId: fileId, job: anyJob }),
  /**
   * Adds what somebody wants to the record. A new one is begun where there is none and where the job is no longer what it
   * speaks of; the one before is kept beside it.
   */
  addSignoff: v.object({ jobFileId: fileId, artFileId: fileId, job: anyJob, wish: signWish }),
  /** Makes the one file of a proof; it lies nowhere until the page saves it or hands it over. `jobFileId`: null for a job that was never saved. */
  makeProof: v.object({
    fileId,
    jobFileId: v.nullable(fileId),
    /** File name that it has, or would be saved under. */
    jobName: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
    taskId,
    job: anyJob,
    /** Most bytes that the file may have. */
    budget: v.optional(
      v.pipe(v.number(), v.integer(), v.minValue(budgetLimits[0]), v.maxValue(budgetLimits[1])),
      usualBudget,
    ),
    /** Runs the checks and tells what they found. */
    checked: v.optional(v.boolean(), true),
  }),
  /** A proof that was made went out under a name: its version is listed beside the job. */
  proofOut: v.object({
    jobFileId: fileId,
    id: versionId,
    name: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
  }),
  /** Two versions of a saved job under the job's own light, held and shown alike; null is the job as it is now. */
  comparePicture: v.object({
    jobFileId: fileId,
    artFileId: fileId,
    taskId,
    job: anyJob,
    a: v.nullable(versionId),
    b: v.nullable(versionId),
    width: v.pipe(v.number(), v.integer(), v.minValue(16), v.maxValue(1024)),
    height: v.pipe(v.number(), v.integer(), v.minValue(16), v.maxValue(1024)),
  }),
  progress: v.object({ taskId }),
  cancel: v.object({ taskId }),
} as const

export interface Answers {
  about: About
  recent: readonly RecentRef[]
  chooseFile: FileRef | null
  chooseArt: readonly FileRef[]
  openJob: OpenedJob
  importArt: ImportedArt
  artPages: ArtPages
  assignRoles: { readonly assigned: readonly Assigned[] }
  preview: Picture
  buildMap: BuiltMap
  runChecks: CheckList
  slipPicture: SlipPicture
  accountPicture: HolographyAccount | null
  flashPicture: FlashMap
  heatPicture: HeatMap
  typePicture: LegibilityResult
  whitePicture: WhitePicture
  framePicture: Picture
  makeStills: readonly MadeFile[]
  /** With the id of the version that it shows. */
  makeProofSheet: MadeFile & { readonly id: string }
  makeSignOffPdf: MadeFile
  addProfile: AddedProfile
  chooseAsset: readonly FileRef[]
  addAsset: AddedAsset
  assetPictures: AssetPictures
  saveJob: { readonly file: FileRef; readonly job: Job } | null
  makePlates: MadePlates & { readonly id: string }
  saveFile: WrittenFile | null
  demo: OpenedJob
  artState: string | null
  keepDraft: null
  drafts: readonly DraftRef[]
  openDraft: OpenedJob
  dropDraft: null
  versions: readonly VersionRef[]
  notes: NotesFile
  addNotes: AddedNotes
  mergeNotes: AddedNotes & { readonly mark: NotesMark }
  signoff: SignoffState | null
  addSignoff: SignoffState
  /** With the name that its file would have beside the job. */
  makeProof: MadeProof & { readonly name: string }
  proofOut: null
  comparePicture: ComparedPictures
  /** `done` in 0..1; null when no such task runs. */
  progress: { readonly done: number; readonly what: string } | null
  cancel: null
}

export type RequestName = keyof typeof requests
export type Input<N extends RequestName> = v.InferOutput<(typeof requests)[N]>
export type Reply<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly code: string; readonly message: string }

/** Code of a reply to work that the user cancelled. */
export const cancelledCode = 'cancelled'

/** One request, one answer; rejects with a HostError that carries code and message. */
export interface Host {
  <N extends RequestName>(name: N, input: v.InferInput<(typeof requests)[N]>): Promise<Answers[N]>
  /** A file the user dropped or picked in the page: desktop passes its path inside the preload, browser uploads it. */
  adopt(file: unknown): Promise<FileRef>
}

export type Handlers = { readonly [N in RequestName]: (input: Input<N>) => Promise<Answers[N]> }

/** Parses and runs one request; never throws. Unknown names and malformed input are refused by name. */
export async function dispatch(handlers: Handlers, name: string, input: unknown): Promise<Reply<unknown>> {
  if (!Object.hasOwn(requests, name))
    return { ok: false, code: 'unknown-request', message: `no request "${name}"` }
  const request = name as RequestName
  const parsed = v.safeParse(requests[request], input)
  if (!parsed.success) {
    const issue = parsed.issues[0]
    return {
      ok: false,
      code: 'malformed',
      message: `${name}: ${v.getDotPath(issue) ?? 'input'}: ${issue.message}`,
    }
  }
  try {
    const handle = handlers[request] as (input: unknown) => Promise<unknown>
    return { ok: true, value: await handle(parsed.output) }
  } catch (error) {
    return failure(error)
  }
}

function failure(error: unknown): Reply<never> {
  if (!(error instanceof Error)) return { ok: false, code: 'failed', message: String(error) }
  const code = error.name === 'Cancelled' ? cancelledCode : 'code' in error ? String(error.code) : 'failed'
  return { ok: false, code, message: error.message }
}
