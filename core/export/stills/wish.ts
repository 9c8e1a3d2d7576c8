import type { Angles } from './contact.ts'

/** What stills can be made of a job. */
export const stillKinds = [
  /** Small pictures over tilt and turn. */
  'contact',
  /** As the job has it. */
  'shown',
  /** The frames that the glare check finds. */
  'best',
  'darkest',
  'glare',
  /** Each panel of the carton, straight on. */
  'panels',
  /** Held as the job has it, under each of the named lights. */
  'lights',
] as const
export type StillKind = (typeof stillKinds)[number]

/** How a still is written. PNG and TIFF: what the screen shows, 8 or 16 bits, with its profile. EXR: linear light, 16 or 32 bits. */
export type StillFormat =
  | { readonly kind: 'png' | 'tiff'; readonly depth: 8 | 16 }
  | { readonly kind: 'exr'; readonly depth: 16 | 32 }

export interface StillsWish {
  readonly what: readonly StillKind[]
  readonly format: StillFormat
  /** Of each still, pixels. */
  readonly width: number
  readonly height: number
  readonly contact: {
    readonly tilt: Angles
    readonly turn: Angles
    /** Of a cell, pixels. */
    readonly cellWidth: number
    readonly cellHeight: number
  }
}

/** What a still says on paper, pixels on an inch: its size there is nobody's true size. */
export const stillPpi = 300

/** Pixels of a side of a still and of a cell, at most and at least; rows or columns; degrees of a contact sheet. */
export const stillLimits = {
  side: 16_384,
  cell: 2048,
  angles: 24,
  least: 16,
  tiltDeg: 80,
  turnDeg: 180,
} as const

export const usualContact: StillsWish['contact'] = {
  tilt: { fromDeg: 30, toDeg: -30, count: 5 },
  turn: { fromDeg: -60, toDeg: 60, count: 5 },
  cellWidth: 320,
  cellHeight: 320,
}

/** A file that was made: its name without folder, and its bytes. */
export interface MadeFile {
  readonly name: string
  readonly bytes: Uint8Array<ArrayBuffer>
  /** What it shows, a few words. */
  readonly title: string
}
