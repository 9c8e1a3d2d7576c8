import type { PrintCondition } from '../color/print-condition.ts'
import type { LampPath } from '../job/job.ts'
import type { MapHead } from '../material/map-head.ts'
import type { LampPose, PanelPose, Scene } from '../reference/scene.ts'
import type { Solid } from '../reference/solid.ts'
import type { Note } from './notes.ts'
import type { PackedPlane } from './planes.ts'
import type { ProofVersion } from './version.ts'

export const proofFormat = 'rakelight-proof'
export const proofVersion = 1

/**
 * What one file carries beside its pictures and the bytes of its planes: all that the stage needs to draw what the app
 * draws, and all that a reader is told. Plain JSON.
 */
export interface ProofManifest {
  readonly format: typeof proofFormat
  readonly version: typeof proofVersion
  /** What is shown, with the hashes of all that it was made from; its job carries notes on the board, pins and names. */
  readonly of: ProofVersion
  readonly map: ProofMap
  /** In the order of their blocks in the page. */
  readonly planes: readonly PackedPlane[]
  readonly detail: ProofDetail
  /** As the job was left, without what stands on the table: `proofScene` puts that back. */
  readonly scene: Scene
  /** The folded carton; null where the panel lies flat. */
  readonly solid: Solid | null
  /** Lights to choose from; the first is the job's own. */
  readonly lights: readonly ProofLight[]
  readonly paths: readonly LampPath[]
  readonly assumed: readonly AssumedLine[]
  readonly findings: ProofFindings
  /** Notes that came with the job. */
  readonly notes: readonly Note[]
  /** Stands on everything that goes out. */
  readonly label: string
  /** What a picture on a screen does not bind anyone to. */
  readonly caution: readonly string[]
  readonly strip: ProofStrip
}

/** The map without its planes; what inks look like on paper without its table, which is a plane of its own. */
export interface ProofMap extends Omit<MapHead, 'print'> {
  readonly print: Omit<PrintCondition, 'factors'> | null
}

/** How fine the map is, and why. */
export interface ProofDetail {
  /** How often the map was halved to fit; 0 = as fine as the job. */
  readonly halvings: number
  readonly pixelsPerInch: number
  /** Of the job's own map. */
  readonly wholePixelsPerInch: number
  /** Most bytes that the file was to have. */
  readonly budget: number
  /** A sentence for people. */
  readonly says: string
}

export interface ProofLight {
  readonly name: string
  readonly says: string
  readonly light: Scene['light']
}

/** A number that stands in the picture, and how sure it is. */
export interface AssumedLine {
  readonly group: string
  readonly name: string
  /** With its unit, as people read it. */
  readonly value: string
  readonly status: string
  /** The note that it was measured; null while it is assumed. */
  readonly measured: string | null
}

/** What checks said, in short. */
export interface ProofFindings {
  /** Of all findings that nobody lets stand; null where the proof was made without checks. */
  readonly counts: { readonly error: number; readonly warning: number; readonly note: number } | null
  /** The worst first. */
  readonly told: readonly {
    readonly severity: 'error' | 'warning' | 'note'
    readonly where: string
    readonly message: string
    readonly fix: string
  }[]
}

/** Pictures that were drawn beforehand, for a screen without the live view. */
export interface ProofStrip {
  readonly width: number
  readonly height: number
  /** One a picture of the page's strip, in its order. */
  readonly held: readonly { readonly pose: PanelPose; readonly lamp: LampPose }[]
}
