import type { Finding } from '../base/finding.ts'

/**
 * What plates are for: an overlay proof, whose films are laid on a sheet of the foil and cut out by hand, so that the
 * dieline prints; or press, where only inks, white and varnish make plates.
 */
export const plateUses = ['overlay', 'press'] as const
export type PlateUse = (typeof plateUses)[number]

/** As the print side is looked at, or mirrored: for what is printed on the far side of a film. */
export const readings = ['right', 'wrong'] as const
export type Reading = (typeof readings)[number]

/** Plates that share a reading. */
export const plateGroups = ['white', 'inks', 'varnish'] as const
export type PlateGroup = (typeof plateGroups)[number]

/** `pdf`: one file with all; `tiff`: one file a plate, and one with all inks; `svg`: outlines alone, mm. */
export const plateFormats = ['pdf', 'tiff', 'svg'] as const
export type PlateFormat = (typeof plateFormats)[number]

/** Plates as somebody wants them. */
export interface PlateWish {
  readonly use: PlateUse
  /** Plates of one reading share a page. */
  readonly reading: Readonly<Record<PlateGroup, Reading>>
  /** Register and cut marks, and a label, outside the trim. */
  readonly marks: boolean
  /** How far print reaches over the trim, where the art has it, mm. */
  readonly bleedMm: number
  /** Names of plates, `Dieline` among them; null = all that have something to print. */
  readonly plates: readonly string[] | null
  readonly formats: readonly PlateFormat[]
}

/** Three millimetres past the cut. Common practice of carton printers. */
export const usualBleedMm = 3
export const mostBleedMm = 25

export const usualWish: PlateWish = {
  use: 'overlay',
  reading: { white: 'right', inks: 'right', varnish: 'right' },
  marks: true,
  bleedMm: usualBleedMm,
  plates: null,
  formats: ['pdf'],
}

/** Who and when, for labels and file names. */
export interface PlateLabel {
  /** The job's name without its ending: files begin with it. */
  readonly jobName: string
  /** Version of rakelight. */
  readonly program: string
  /** First digits of the version that they show. */
  readonly version: string
  /** ISO 8601, UTC. */
  readonly madeAt: string
}

/** A plate that was made. */
export interface PlateMade {
  readonly name: string
  readonly kind: 'process' | 'spot' | 'white' | 'varnish' | 'primer' | 'dieline'
  readonly reading: Reading
  /** Mean of the art, 0..1; null for a dieline, which is lines. */
  readonly coverage: number | null
  /** Area that prints at all, mm²; null for a dieline. */
  readonly areaMm2: number | null
  /** Opacity of the solid as it is laid, 0..1; null where nobody counts on one. */
  readonly opacity: number | null
  readonly hits: number
  /** Processing step of ISO 19593-1, in words; null where the plate is none. */
  readonly step: string | null
}

/** Plates as files. */
export interface MadePlates {
  readonly files: readonly {
    readonly name: string
    readonly bytes: Uint8Array<ArrayBuffer>
    /** The plate of a TIFF of one; null for other files. */
    readonly plate: string | null
  }[]
  readonly plates: readonly PlateMade[]
  /** Names of what the art has and nothing is printed of. */
  readonly empty: readonly string[]
  /** Sizes in mm. */
  readonly sheet: {
    readonly trim: readonly [width: number, height: number]
    /** Past the trim: left, bottom, right, top. */
    readonly bleed: readonly [number, number, number, number]
    /** The page of the PDF; null without one. */
    readonly media: readonly [width: number, height: number] | null
    /** Pixels of the art on the size that it is printed at. */
    readonly art: {
      readonly widthMm: number
      readonly heightMm: number
      readonly width: number
      readonly height: number
    }
  }
  readonly findings: readonly Finding[]
}
