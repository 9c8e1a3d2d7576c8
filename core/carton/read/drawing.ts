import type { Finding } from '../../base/finding.ts'
import type { Point } from '../die.ts'

/** One connected stroke of a drawing. */
export interface DrawnLine {
  /** mm from the drawing's lower left corner, y up; two or more. A closed line repeats its first point at the end. */
  readonly points: readonly Point[]
  /** What it is called and what its groups are called, nearest first; each may have several names. */
  readonly names: readonly (readonly string[])[]
  /** `#rrggbb`; null where there is no stroke of one colour. */
  readonly color: string | null
  readonly dashed: boolean
  /** Filled and not stroked: artwork, unless its name says otherwise. */
  readonly filled: boolean
}

/** What a drawing shows, before anybody knows what its lines do. */
export interface Drawing {
  readonly name: string
  readonly lines: readonly DrawnLine[]
  /** Size of the page, mm. */
  readonly widthMm: number
  readonly heightMm: number
  /** How many millimetres one unit of the file is, and how that is known. */
  readonly scale: { readonly mm: number; readonly from: 'stated' | 'assumed' | 'given' }
  readonly findings: readonly DieFinding[]
}

/** A finding with its place on the drawing. */
export interface DieFinding extends Finding {
  /** mm, in the frame of what it comes with; null when it is about the whole. */
  readonly at: Point | null
}
