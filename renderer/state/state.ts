import type { Art, ReadAs } from '../../core/art/layer.ts'
import type { Finding } from '../../core/base/finding.ts'
import type { BoxMm, CheckFinding, CheckName } from '../../core/checks/finding.ts'
import type { MarkKind } from '../../core/checks/marked.ts'
import type { CheckList } from '../../core/checks/run.ts'
import type { EffectTarget } from '../../core/effects/outline.ts'
import type { About } from '../../core/host/contract.ts'
import type { FileRef } from '../../core/host/file-ref.ts'
import type { DraftRef, OpenedJob, RecentRef } from '../../core/host/files.ts'
import type { Job } from '../../core/job/job.ts'
import type { Standpoint } from '../../core/job/path.ts'
import type { SeenArt } from '../../core/job/seen.ts'
import type { FirstLook } from '../../core/material/first-look.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { wholeView, type Zoom } from '../../core/reference/camera.ts'
import type { PanelPose } from '../../core/reference/scene.ts'
import type { Assigned } from '../../core/roles/role.ts'
import type { Theme } from './theme.ts'
import { type History, noHistory } from './undo.ts'

/** What the window shows: the job being worked on, how it is looked at, and what this sitting knows besides. */
export interface State {
  readonly job: Job | null
  readonly view: View
  readonly session: Session
}

/** Nothing here is saved. */
export interface View {
  /** The layer, channel, drawn area or board whose card is open in the stack. */
  readonly card: EffectTarget | 'board' | null
  /** What the hand draws on the picture. */
  readonly drawing: DrawTool | null
  /** What the drawn shape marks for the checks; null where it becomes an area of holography. */
  readonly marking: MarkKind | null
  readonly sheet: 'findings' | 'checks' | 'proofs' | 'assumed' | 'help' | 'brief' | 'anything' | null
  readonly checks: ChecksView
  readonly proofs: ProofsView
  /** The place that a finding or a mark was shown at. */
  readonly shown: ShownPlace | null
  /** The spot that is read; mm from the panel's lower left corner, y up. */
  readonly spot: Spot | null
  readonly run: RunView
  readonly zoom: Zoom
  /** Only the panel, without the strips. */
  readonly bare: boolean
  /** Index of the lamp that the light strip sets; past the last lamp it means the first. */
  readonly lamp: number
  /** What the screen cannot show is marked. */
  readonly marks: boolean
  /** What stands side by side: all designs of the job, or the shown one as it is printed and as a film proof. */
  readonly compare: 'designs' | 'laid' | null
  readonly theme: Theme
  readonly stillMotion: boolean
}

/** What the sheet of checks shows. */
export interface ChecksView {
  readonly section: ChecksSection
  /** Findings of one check only. */
  readonly check: CheckName | 'all'
  readonly severity: CheckFinding['severity'] | 'waived' | 'all'
  /** The limit that was asked for, by its key. */
  readonly limit: string | null
}

/** In the order of the sheet. */
export const checksSections = ['list', 'register', 'light', 'white', 'account', 'marks', 'limits'] as const
export type ChecksSection = (typeof checksSections)[number]

/** What the sheet of proofs shows. */
export interface ProofsView {
  readonly section: ProofsSection
  /** What is being put together to be sent out. */
  readonly send: string | null
  /** Where a new note is: `asked` until the place was pressed, then mm from the art's lower left corner, y up. */
  readonly placing: 'asked' | Pick<Spot, 'xMm' | 'yMm'> | null
  /** The note that the table stands for, and how the job was lit and looked at before, to go back to. */
  readonly note:
    | (Pick<ShownPlace, 'before'> & { readonly id: string; readonly job: Pick<Job, 'light' | 'view'> })
    | null
}

/** In the order of the sheet. */
export const proofsSections = ['send', 'versions', 'notes', 'signoff'] as const
export type ProofsSection = (typeof proofsSections)[number]

export interface ShownPlace {
  /** Of the finding, or the mark's name. */
  readonly key: string
  readonly title: string
  readonly box: BoxMm
  /** How the panel was held and looked at before, to go back to. */
  readonly before: Pick<View, 'zoom'> & Pick<RunView, 'timeS'> & { readonly pose: PanelPose }
}

/** Shapes that the hand draws on the panel. */
export type DrawTool = 'rectangle' | 'ellipse' | 'polygon'

export interface Spot {
  readonly xMm: number
  readonly yMm: number
  /** Stays when the pointer leaves. */
  readonly pinned: boolean
}

export interface RunView {
  /** Index into the job's lamp paths. */
  readonly path: number
  /** Null while lamp and panel stand where the job has them. */
  readonly timeS: number | null
  /** Where lamp, panel and eye stand for a note, while nothing runs; null: where the job has them. */
  readonly stood: Standpoint | null
  readonly playing: boolean
  /** `calm` keeps lamp and panel below {@link calmDegreesPerSecond}; `asKeyed` follows the path's own times. */
  readonly pace: 'calm' | 'asKeyed'
}

export interface Session {
  readonly about: About | null
  readonly recent: readonly RecentRef[]
  readonly art: OpenArt | null
  readonly jobFile: FileRef | null
  /** The job as its file has it, or as it was opened; what it differs in would be lost. */
  readonly kept: Job | null
  readonly history: History<Job>
  readonly built: BuiltFrom | null
  readonly checks: Checks
  /** How the job's sign-off stands; null where nothing was signed, or nobody has looked yet. */
  readonly signed: SignMark | null
  readonly work: Work | null
  /** The map on the table is older than the job. */
  readonly stale: boolean
  /** Counts how often the user asked for the map again after it was stopped or failed. */
  readonly attempt: number
  readonly message: Message | null
  readonly question: Question | null
}

/** `broken`: the record is not as it was written. */
export type SignMark = 'stands' | 'superseded' | 'broken'

export interface OpenArt {
  readonly file: FileRef
  readonly art: Art
  readonly sha256: string
  readonly assigned: readonly Assigned[]
  readonly findings: readonly Finding[]
  /** Where its parts lie; missing on a blank panel. */
  readonly seen?: SeenArt
  /** How its files stood on the disk before they were read; null where none lies there. */
  readonly state: string | null
}

export interface BuiltFrom {
  /** The host's name for it. */
  readonly id: string
  readonly map: MaterialMap
  /** The map and its coarser levels. Planes are written over when the next comes of them. */
  readonly levels: readonly MaterialMap[]
  readonly findings: readonly Finding[]
  /** What the next map is going to show, until it is there: for the picture on the table and nothing else. */
  readonly look: FirstLook | null
}

/** What the checks found when they last ran. */
export interface Checks {
  readonly list: CheckList | null
  /** The job that the list is of. */
  readonly of: Job | null
  readonly running: CheckRun | null
  /** Why the last run came to no list. */
  readonly failed: string | null
}

export interface CheckRun {
  readonly taskId: string
  /** 0..1, or null before the host has said anything. */
  readonly done: number | null
  readonly what: string
}

/** Long work that shows its progress and can be stopped. */
export interface Work {
  readonly taskId: string
  readonly title: string
  /** 0..1, or null before the host has said anything. */
  readonly done: number | null
  readonly what: string
  /** Import blocks the table; a rebuilt map only says so at the edge. */
  readonly blocks: boolean
}

export interface Message {
  readonly tone: 'error' | 'note'
  readonly text: string
}

/** Something only the user can decide. The answer's consequence hangs on the kind. */
export type Question =
  | { readonly kind: 'art'; readonly opened: OpenedJob }
  | {
      readonly kind: 'otherArt'
      readonly opened: OpenedJob
      readonly picked: FileRef
      /** Chosen together with it. */
      readonly beside: readonly FileRef[]
    }
  | { readonly kind: 'unsaved'; readonly next: () => void }
  | ArtQuestion
  /** Work that an earlier sitting left unsaved. */
  | { readonly kind: 'drafts'; readonly drafts: readonly DraftRef[] }

/** What art asks before it lies on the table; null where the user leaves it. */
export type ArtQuestion =
  | {
      readonly kind: 'password'
      readonly name: string
      /** One was given, and it does not open the file. */
      readonly wrong: boolean
      readonly answer: (password: string | null) => void
    }
  | {
      readonly kind: 'page'
      readonly file: FileRef
      readonly count: number
      readonly answer: (page: number | null) => void
    }
  | {
      readonly kind: 'inexact'
      readonly name: string
      /** Objects whose inks cannot be told, and why. */
      readonly objects: readonly Finding[]
      readonly answer: (readAs: ReadAs | null) => void
    }

export const runStart: RunView = { path: 0, timeS: null, stood: null, playing: false, pace: 'calm' }

export const noChecks: Checks = { list: null, of: null, running: null, failed: null }

export const firstState: State = {
  job: null,
  view: {
    card: null,
    drawing: null,
    marking: null,
    sheet: null,
    checks: { section: 'list', check: 'all', severity: 'all', limit: null },
    proofs: { section: 'send', send: null, placing: null, note: null },
    shown: null,
    spot: null,
    run: runStart,
    zoom: wholeView,
    bare: false,
    lamp: 0,
    marks: false,
    compare: null,
    theme: 'system',
    stillMotion: false,
  },
  session: {
    about: null,
    recent: [],
    art: null,
    jobFile: null,
    kept: null,
    history: noHistory,
    built: null,
    checks: noChecks,
    signed: null,
    work: null,
    stale: false,
    attempt: 0,
    message: null,
    question: null,
  },
}

export const inView = (state: State, view: Partial<View>): State => ({
  ...state,
  view: { ...state.view, ...view },
})

export const inSession = (state: State, session: Partial<Session>): State => ({
  ...state,
  session: { ...state.session, ...session },
})

/** The place of a new note was pressed: the sheet asks for its words. */
export const notePlaced = (state: State, { xMm, yMm }: Pick<Spot, 'xMm' | 'yMm'>): State =>
  inView(state, {
    sheet: 'proofs',
    proofs: { ...state.view.proofs, section: 'notes', placing: { xMm, yMm } },
  })

/** Whether the table shows notes now. */
export const showsNotes = ({ sheet, proofs, drawing }: View): boolean =>
  drawing === null &&
  (proofs.placing !== null || proofs.note !== null || (sheet === 'proofs' && proofs.section === 'notes'))
