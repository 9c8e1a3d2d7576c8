import type { PointMm } from '../../effects/outline.ts'

/** What moves as one on its way through the plant. */
export const groups = ['holography', 'white', 'colour', 'die'] as const
export type Group = (typeof groups)[number]
export type PrintedGroup = Exclude<Group, 'die'>

/** How a group lies beside where it was drawn: stretched, then turned about the middle of the art, then moved. */
export interface GroupMotion {
  /** Mm to the right and up. */
  readonly dxMm: number
  readonly dyMm: number
  /** Radians, counter-clockwise. */
  readonly turn: number
  /** Length over drawn length, across and up; 1 is as drawn. */
  readonly stretchX: number
  readonly stretchY: number
}

/** Groups that are left out lie as drawn. */
export type Motions = Readonly<Partial<Record<Group, GroupMotion>>>

export const asDrawn: GroupMotion = { dxMm: 0, dyMm: 0, turn: 0, stretchX: 1, stretchY: 1 }

export const isStill = ({ dxMm, dyMm, turn, stretchX, stretchY }: GroupMotion): boolean =>
  dxMm === 0 && dyMm === 0 && turn === 0 && stretchX === 1 && stretchY === 1

/** A place (x, y) goes to (xx·x + xy·y + x0, yx·x + yy·y + y0), mm. */
export interface Affine {
  readonly xx: number
  readonly xy: number
  readonly yx: number
  readonly yy: number
  readonly x0: number
  readonly y0: number
}

/** The motion as a map of places. @param about the middle of the art */
export function affineOf({ dxMm, dyMm, turn, stretchX, stretchY }: GroupMotion, [cx, cy]: PointMm): Affine {
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const [xx, xy, yx, yy] = [c * stretchX, -s * stretchY, s * stretchX, c * stretchY]
  return { xx, xy, yx, yy, x0: cx + dxMm - xx * cx - xy * cy, y0: cy + dyMm - yx * cx - yy * cy }
}

/** The way back. */
export function inverseOf({ xx, xy, yx, yy, x0, y0 }: Affine): Affine {
  const det = xx * yy - xy * yx
  const back = { xx: yy / det, xy: -xy / det, yx: -yx / det, yy: xx / det }
  return { ...back, x0: -(back.xx * x0 + back.xy * y0), y0: -(back.yx * x0 + back.yy * y0) }
}

export const movedPoint = ({ xx, xy, yx, yy, x0, y0 }: Affine, [x, y]: PointMm): PointMm => [
  xx * x + xy * y + x0,
  yx * x + yy * y + y0,
]

/** First `inner`, then `outer`. */
export function composed(outer: Affine, inner: Affine): Affine {
  const [x0, y0] = movedPoint(outer, [inner.x0, inner.y0])
  return {
    xx: outer.xx * inner.xx + outer.xy * inner.yx,
    xy: outer.xx * inner.xy + outer.xy * inner.yy,
    yx: outer.yx * inner.xx + outer.yy * inner.yx,
    yy: outer.yx * inner.xy + outer.yy * inner.yy,
    x0,
    y0,
  }
}

/** How each printed group lies on the panel once it is cut: a die that slipped takes all of them the other way. */
export function onCut(motions: Motions, about: PointMm): Readonly<Record<PrintedGroup, Affine>> {
  const back = inverseOf(affineOf(motions.die ?? asDrawn, about))
  const lain = (group: PrintedGroup) => composed(back, affineOf(motions[group] ?? asDrawn, about))
  return { holography: lain('holography'), white: lain('white'), colour: lain('colour') }
}

/** Radians, counter-clockwise: the turn that a map of places has, whatever it stretches. */
export const turnOf = ({ xx, xy, yx, yy }: Affine): number => Math.atan2(yx - xy, xx + yy)
