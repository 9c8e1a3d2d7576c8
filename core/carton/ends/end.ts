import { BadInput } from '../../base/finding.ts'
import type { Hinge, Panel } from '../blank.ts'
import type { LineKind, Outline, Point } from '../die.ts'
import { counterClockwise } from '../outline.ts'
import type { Allowances, SettingKey } from '../settings.ts'
import type { MainPanel } from '../spec.ts'
import type { Pose } from './square-up.ts'

/**
 * The body from crease to crease, mm, and where its panels lie on the blank, from the glue flap on: back, left side,
 * front, right side. Folded, the front is a caliper longer than the back, so that the right side lies on the glue flap.
 */
export interface Strip {
  readonly caliper: number
  /** Length of the back; the front has a caliper more. */
  readonly back: number
  readonly width: number
  /** Width of the right side, which ends short of the glue crease. */
  readonly last: number
  /** Creases from left to right: glue flap | back | left | front | right; then the free edge. */
  readonly creases: readonly [glue: number, left: number, front: number, right: number, edge: number]
}

export type SidePanel = 'left side' | 'right side'

/**
 * How far outward each panel of the body reaches, mm, from the middle of the innermost closed leaf: so much that
 * leaves which close over each other lie a caliper apart.
 */
export type Levels = Readonly<Record<MainPanel | SidePanel, number>>

/**
 * An end as it is drawn: `v` outward from the innermost closed leaf, and along each panel `X` from the left side's
 * crease for front and back, `u` from the back for the sides, as in the closed carton.
 */
export interface Frame {
  readonly where: 'top' | 'bottom'
  at(panel: MainPanel | SidePanel, along: number, v: number): Point
}

export interface EndWork {
  readonly strip: Strip
  /** How the body gets square where it is glued before it is opened; else undefined. */
  readonly poses?: readonly Pose[] | undefined
  readonly allow: Allowances
  readonly frame: Frame
  /** Refuses the size. */
  readonly refuse: Refuse
}

export type Refuse = (where: string, problem: string, fix: string) => never

/** Two places of the blank, in the middle of the board, that belong together when it is closed. */
export interface Meeting {
  readonly name: string
  readonly a: { readonly panel: string; readonly at: Point }
  readonly b: { readonly panel: string; readonly at: Point }
}

export interface EndParts {
  readonly panels: readonly Panel[]
  readonly hinges: readonly Hinge[]
  readonly rules: Readonly<Record<string, LineKind>>
  readonly glue: readonly Outline[]
  readonly meetings: readonly Meeting[]
  /** How far leaves reach inward from the innermost closed leaf along front and back, at any time of folding, mm. */
  readonly reach: Readonly<Record<MainPanel, number>>
  /** How far from the innermost leaf's level the glue flap stays, so that leaves that rise pass it, mm; 0 where left out. */
  readonly risesMm?: number
}

export const noParts: EndParts = {
  panels: [],
  hinges: [],
  rules: {},
  glue: [],
  meetings: [],
  reach: { front: 0, back: 0 },
}

/** How one kind of end is made. */
export interface EndMaker {
  /** Allowances that it is drawn with, beside those of any body. */
  readonly uses: readonly SettingKey[]
  levels(caliper: number): Levels
  /** Surfaces of the closed end from the middle of its innermost leaf at its crease, mm: inward and outward. */
  faces(body: Girth): Faces
  /** How the body gets square, where this end makes it be glued before it is opened. */
  squaring?(strip: Strip, allow: Allowances): readonly Pose[]
  draw(work: EndWork): EndParts
}

/** What the depth of an end follows from, mm; `width` from crease to crease. */
export interface Girth {
  readonly caliper: number
  readonly width: number
  readonly allow: Allowances
}

export interface Faces {
  readonly inner: number
  readonly outer: number
}

/** Of level leaves, in calipers. */
export const levelFaces =
  (inner: number, outer: number) =>
  ({ caliper }: Girth): Faces => ({ inner: inner * caliper, outer: outer * caliper })

/** A flap of the blank, from a panel's coordinates. */
export function flap(
  frame: Frame,
  name: string,
  on: MainPanel | SidePanel,
  corners: readonly Point[],
): Panel {
  return {
    name: `${frame.where} ${name}`,
    outline: counterClockwise(corners.map(([along, v]) => frame.at(on, along, v))),
  }
}

/** Opposite main panel. */
export const facing = (panel: MainPanel): MainPanel => (panel === 'front' ? 'back' : 'front')

/** Length of a main panel from crease to crease, mm. */
export const lengthOf = (strip: Strip, panel: MainPanel): number =>
  panel === 'back' ? strip.back : strip.back + strip.caliper

/** Refuses with the size in front of the sentence. */
export const refuser =
  (size: string): Refuse =>
  (where, problem, fix) => {
    throw new BadInput('carton-size', size, where, problem, fix)
  }

/** Number of mm for a sentence. */
export const mm = (value: number): string => `${Number(value.toFixed(2))} mm`
