import type { Finding } from '../../base/finding.ts'
import type { StatedStep } from '../step.ts'
import type { Blending, Ink, Mark } from './mark.ts'

export type { StatedStep } from '../step.ts'

/** A layer of a page: an optional-content group, or a group of a drawing. */
export interface PageLayer {
  /** Stable in the file and after it was saved again: made of its name and, where names repeat, its number among them. */
  readonly id: string
  readonly name: string
  /** Number of the layer around it, by the file's own order; null outermost. */
  readonly parent: number | null
  /** As the file opens. */
  readonly visible: boolean
  /** Whether it would be printed (Usage, Print); true where the file does not say. */
  readonly prints: boolean
  readonly step: StatedStep | null
}

/** A box of a page, mm from the lower left corner of the page as it is read: left, bottom, right, top. */
export type PageBox = readonly [number, number, number, number]

/** A page as inks, marks and layers: nothing of it is pixels yet. */
export interface InkPage {
  /** Of the box that is read: bleed, else trim, else media (turned as the page says). */
  readonly widthMm: number
  readonly heightMm: number
  readonly boxes: {
    readonly media: PageBox
    readonly bleed: PageBox | null
    readonly trim: PageBox | null
    readonly crop: PageBox | null
  }
  /** At least the process inks. */
  readonly inks: readonly Ink[]
  /** Bottom first. */
  readonly marks: readonly Mark[]
  /** Left out where marks blend in the process inks. Else the first inks of a mark are what it lacks of that light. */
  readonly blending?: Blending
  /** Bottom first. A mark names its layer by its number here. */
  readonly layers: readonly PageLayer[]
  /** Fonts that type is set in. */
  readonly fonts: readonly { readonly name: string; readonly embedded: boolean }[]
  /** The print condition that the file is made for: profile bytes where they are inside it. */
  readonly outputIntent: { readonly name: string; readonly profile: Uint8Array | null } | null
  /**
   * Objects whose inks cannot be told exactly, each with a reason: what, where, why. Empty: planes are exact, and no
   * other way of reading need be offered.
   */
  readonly inexact: readonly Finding[]
  readonly findings: readonly Finding[]
}
