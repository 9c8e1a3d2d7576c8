import type { ReadAs } from '../art/layer.ts'
import type { OwnLimits } from '../checks/limits.ts'
import type { MarkedArea } from '../checks/marked.ts'
import type { Waiver } from '../checks/waiver.ts'
import type { WhiteRecipe } from '../checks/white/recipe.ts'
import type { Lab } from '../color/lab.ts'
import type { EffectSpec } from '../effects/effect.ts'
import type { EffectTarget, Outline } from '../effects/outline.ts'
import type { MeasuredSpectrum } from '../optics/ink.ts'
import type { WhiteScreen } from '../optics/matter.ts'
import type { OpacityEntry } from '../optics/opacity.ts'
import type { EyeAt, LampPose, PanelPose, Scene } from '../reference/scene.ts'
import type { Amount, RoleName, Target } from '../roles/role.ts'
import type { Asset, AssetFile } from './asset.ts'
import type { JobCarton } from './carton.ts'
import type { Register } from './register.ts'
import type { SeenArt } from './seen.ts'

export type { LampPose, PanelPose, Scene } from '../reference/scene.ts'

export const jobFormat = 'rakelight-job'
export const jobVersion = 3

/** A saved job. Holds nothing that can be recomputed; angles in degrees, lengths in mm. */
export interface Job {
  readonly format: typeof jobFormat
  readonly version: typeof jobVersion
  /** Null before there is any art: the panel is then one blank field of holography. */
  readonly art: JobArt | null
  /** What is wanted, in words. */
  readonly brief: string
  /** What lies on a panel without art. */
  readonly sketch: {
    /** Part of the height, from the bottom, that white covers, 0..1. */
    readonly whitePart: number
  }
  readonly panel: {
    /** Finished size, mm. The art is stretched over it. */
    readonly widthMm: number
    readonly heightMm: number
    readonly resolutionPpi: number
  }
  /** The carton that the panel is folded into; null = it stays flat. */
  readonly carton: JobCarton | null
  /** What the user set by hand; everything else follows from the rules. */
  readonly roles: readonly RoleChoice[]
  /** What the rules found when art and job met: tells later when a newer rule or an edited file says otherwise. */
  readonly found: readonly FoundRole[]
  /** Where the parts of the art lay then: tells later what an edited file moved. Jobs of before do not say. */
  readonly seen?: SeenArt
  /** Words the user taught: a layer whose name has the word gets the role. */
  readonly aliases: readonly { readonly word: string; readonly role: RoleName }[]
  readonly effects: readonly { readonly target: EffectTarget; readonly effect: EffectSpec }[]
  /** Shapes drawn or imported, which effects may have as their area. */
  readonly outlines: readonly Outline[]
  /** Effects kept under a name, to be used again. */
  readonly presets: readonly { readonly name: string; readonly effect: EffectSpec }[]
  /** How the carton lies on the sheet: turned by this, counter-clockwise. */
  readonly nestTurnDeg: 0 | 90 | 180 | 270
  /** Pictures and models from files, for effects that show them. */
  readonly assets: readonly Asset[]
  readonly whites: readonly {
    readonly target: Target
    /** Opacity of the solid, one hit unless the entry says otherwise, as it was measured. */
    readonly opacity: OpacityEntry
    readonly hits: number
    /** Unevenness of the coat, rms part of its scattering strength, 0..1. */
    readonly mottle: number
    /** How a coverage below 1 lies: as dots of the solid, or as a film that is thinner throughout. */
    readonly screen: WhiteScreen
    /** Tone value that the plate gains at 50 %, 0..0.35. */
    readonly toneGain: number
  }[]
  /** A white beside those of the file, made of the art; null = none. */
  readonly madeWhite: WhiteRecipe | null
  /** Spot inks whose solid was measured on white board; without an entry the file's own colour holds. */
  readonly spots: readonly {
    readonly target: Target
    /** L*a*b* D50, 2°; null = the file's own. */
    readonly lab: Lab | null
    /** Reflectance, the board included; goes before the colour. */
    readonly spectrum: MeasuredSpectrum | null
  }[]
  /** Assumed numbers that a measurement has replaced: the numbers stand where they are used. */
  readonly measured: readonly { readonly key: string; readonly note: string }[]
  readonly board: Scene['board']
  readonly whiteInk: Scene['whiteInk']
  readonly print: Scene['print']
  readonly light: Scene['light']
  readonly view: Scene['view']
  readonly paths: readonly LampPath[]
  readonly pins: readonly Pin[]
  /** Limits that its checks take instead of the usual ones. One that this version does not know is kept. */
  readonly limits: OwnLimits
  /** Findings that somebody lets stand. */
  readonly waivers: readonly Waiver[]
  /** Areas that a check is to know of. */
  readonly marked: readonly MarkedArea[]
  /** How far groups of plates lie from their design, as it is looked at now. */
  readonly register: Register
  /** Other designs of the same job. */
  readonly variants: readonly Variant[]
  /** The variant whose changes stand in the fields above, as an index; null = the base. */
  readonly variant: number | null
  /** What the base has where the variant's changes stand. */
  readonly aside: Changes
}

/** The art of a job. */
export interface JobArt extends ArtReading {
  /** Relative to the job file, forward slashes. */
  readonly path: string
  readonly sha256: string
}

/** How the art is read; a password is never kept. */
export interface ArtReading {
  /** Of a file of pages: number of the page, from 1; the first when left out. */
  readonly page?: number
  /** Of what is drawn: pixels on an inch of its planes; the usual ones when left out. */
  readonly ppi?: number
  /** `layers`: only where layers are painted is read, not ink by ink; inks when left out. */
  readonly readAs?: ReadAs
  /** Further files that make up the art together with the first, in their order. */
  readonly beside?: readonly AssetFile[]
}

export const mostVariants = 3

/** What a variant may have of its own; everything else it shares with the base. */
export type Changes = Partial<Pick<Job, 'effects' | 'whites' | 'spots' | 'board' | 'whiteInk' | 'print'>>

export interface Variant {
  readonly name: string
  readonly changes: Changes
}

export interface RoleChoice {
  readonly target: Target
  readonly role: RoleName
  readonly amount: Amount | null
}

export interface FoundRole {
  readonly target: Target
  /** Name of the layer or channel, for a reader of the file. */
  readonly name: string
  readonly role: RoleName
}

/** A spot that is read again and again; mm from the panel's lower left corner, y up. */
export interface Pin {
  readonly name: string
  readonly xMm: number
  readonly yMm: number
}

/** Where one looks from: around the panel's middle, 0 and 0 straight above the table. */
export interface EyePose extends EyeAt {
  readonly distanceMm: number
}

/** Lamps, panel and eye over time. The first key is at 0 s; times rise. A loop ends as it begins. */
export interface LampPath {
  readonly name: string
  readonly loop: boolean
  readonly keys: readonly PathKey[]
}

export interface PathKey {
  readonly timeS: number
  /** The lamp in the hand: the job's first. */
  readonly lamp: LampPose
  readonly pose: PanelPose
  /** The job's further lamps, its second first; null or missing: this key says nothing of that lamp. */
  readonly others: readonly (LampPose | null)[]
  /** Null: this key says nothing of the eye. */
  readonly eye: EyePose | null
  readonly ease: Ease
}

/**
 * How motion passes a key: `flow` goes through at its speed, `rest` comes to a stop and starts again, `even` leaves for
 * the next key at one speed, `hold` stays until the next key and is there at once.
 */
export type Ease = (typeof eases)[number]

export const eases = ['flow', 'rest', 'even', 'hold'] as const
