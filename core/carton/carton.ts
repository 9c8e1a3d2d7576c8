import type { Blank } from './blank.ts'
import { bodySizes, bodyUses, type Ends, stripOf, wallsOf } from './body.ts'
import type { Die, Outline, Point } from './die.ts'
import { dieOf } from './draw.ts'
import { crashLock } from './ends/crash-lock.ts'
import {
  type EndMaker,
  type EndParts,
  type Frame,
  type Meeting,
  mm,
  type Refuse,
  refuser,
  type Strip,
} from './ends/end.ts'
import { openEnd } from './ends/open.ts'
import { sealEnd } from './ends/seal.ts'
import { snapLock } from './ends/snap-lock.ts'
import { tuckEnd } from './ends/tuck.ts'
import { type Allowances, allowances, type SettingKey } from './settings.ts'
import type { CartonSpec, End, MainPanel } from './spec.ts'

/** A carton that can be made. */
export interface Carton {
  readonly blank: Blank
  /** Left to right without the glue flap, crease to crease, mm; the last one to its cut edge. */
  readonly panelWidths: readonly [back: number, left: number, front: number, right: number]
  /** Every allowance that it was drawn with. */
  readonly allow: Allowances
  /** Places that close on each other. */
  readonly meetings: readonly Meeting[]
}

/** The blank alone: see `cartonOf`. */
export const cartonBlank = (spec: CartonSpec): Blank => cartonOf(spec).blank

/**
 * Draws the carton. Creases fold about the middle of the board: two walls have their creases a caliper further apart
 * than their inner faces, and a caliper less than their outer ones; leaves that close over each other have theirs a
 * caliper apart. All closing sums follow from that.
 * Throws BadInput for a size or an allowance that cannot be made.
 */
export function cartonOf(spec: CartonSpec): Carton {
  const { caliperMm } = spec
  const refuse = refuser(sizeWords(spec))
  const makers: Ends<EndMaker> = { top: makerOf(spec.top), bottom: makerOf(spec.bottom) }
  const sizes = bodySizes(spec, makers, refuse)
  const allow = allowances({ ...sizes, caliperMm }, spec.own)
  const strip = stripOf(sizes, caliperMm, allow)
  const frames: Ends<Frame> = {
    top: frameOf('top', strip, sizes.roomMm),
    bottom: frameOf('bottom', strip, 0),
  }
  const poses = makers.bottom.squaring?.(strip, allow) ?? makers.top.squaring?.(strip, allow)
  const ends: Ends<EndParts> = {
    top: makers.top.draw({ strip, poses, allow, frame: frames.top, refuse }),
    bottom: makers.bottom.draw({ strip, poses, allow, frame: frames.bottom, refuse }),
  }
  checkRoom(ends, sizes.roomMm, caliperMm, refuse)
  const levels = { top: makers.top.levels(caliperMm), bottom: makers.bottom.levels(caliperMm) }
  const rises = { top: ends.top.risesMm ?? 0, bottom: ends.bottom.risesMm ?? 0 }
  const walls = wallsOf({ strip, allow, frames, levels, rises, poses, room: sizes.roomMm, refuse })
  return atZero([walls, ends.top, ends.bottom], strip, allow)
}

/** Allowances that such a carton is drawn with: a tuck is none of them where neither end has one. */
export const usedSettings = ({ top, bottom, measure }: Pick<CartonSpec, 'top' | 'bottom' | 'measure'>) =>
  new Set<SettingKey>([...bodyUses(measure), ...makerOf(top).uses, ...makerOf(bottom).uses])

function makerOf(end: End): EndMaker {
  switch (end.kind) {
    case 'tuck':
      return tuckEnd(end.on, end.rule ?? 'crease')
    case 'seal':
      return sealEnd(end.on)
    case 'snap-lock':
      return snapLock
    case 'crash-lock':
      return crashLock
    case 'open':
      return openEnd
  }
}

const sizeWords = ({ lengthMm, widthMm, heightMm, measure, caliperMm }: CartonSpec): string =>
  `carton ${lengthMm} × ${widthMm} × ${heightMm} mm ${measure}, board ${caliperMm} mm`

function frameOf(where: Frame['where'], { creases, width }: Strip, base: number): Frame {
  const outward = where === 'top' ? 1 : -1
  const xOf = (panel: Parameters<Frame['at']>[0], along: number): number => {
    switch (panel) {
      case 'back':
        return creases[1] - along
      case 'left side':
        return creases[1] + along
      case 'front':
        return creases[2] + along
      case 'right side':
        return creases[3] + width - along
    }
  }
  return { where, at: (panel, along, v): Point => [xOf(panel, along), base + outward * v] }
}

/** Tongues of both ends must pass each other, and the leaves of the opposite end. */
function checkRoom({ top, bottom }: Ends<EndParts>, room: number, caliper: number, refuse: Refuse): void {
  for (const panel of ['front', 'back'] satisfies readonly MainPanel[]) {
    const needed = top.reach[panel] + bottom.reach[panel] + 2 * caliper
    if (needed > room)
      refuse(
        'height',
        `tongues along the ${panel} need ${mm(needed)} between the ends, and have ${mm(room)}`,
        'Make the carton higher or the tuck shallower.',
      )
  }
}

/** The parts as one blank whose box starts at 0, 0. */
function atZero(
  parts: readonly Omit<EndParts, 'reach' | 'risesMm'>[],
  strip: Strip,
  allow: Allowances,
): Carton {
  const all = parts.flatMap(part => part.panels.flatMap(panel => panel.outline))
  const [left, bottom] = [Math.min(...all.map(([x]) => x)), Math.min(...all.map(([, y]) => y))]
  const place = ([x, y]: Point): Point => [x - left, y - bottom]
  const outlined = (outline: Outline): Outline => outline.map(place)
  const panels = parts.flatMap(part =>
    part.panels.map(panel => ({ ...panel, outline: outlined(panel.outline) })),
  )
  const hinges = parts.flatMap(part =>
    part.hinges.map(hinge => ({ ...hinge, from: place(hinge.from), to: place(hinge.to) })),
  )
  // Only a drawing asks for the lines: while sizes are tried, or the carton folds, nobody does.
  let die: Die | undefined
  return {
    blank: {
      widthMm: Math.max(...all.map(([x]) => x)) - left,
      heightMm: Math.max(...all.map(([, y]) => y)) - bottom,
      caliperMm: strip.caliper,
      panels,
      hinges,
      root: 'front',
      get die() {
        die ??= dieOf({
          panels,
          hinges,
          glue: parts.flatMap(part => part.glue.map(outlined)),
          rules: Object.assign({}, ...parts.map(part => part.rules)),
          bleedMm: allow.bleedMm,
        })
        return die
      },
    },
    panelWidths: [strip.back, strip.width, strip.back + strip.caliper, strip.last],
    allow,
    meetings: parts.flatMap(part =>
      part.meetings.map(({ name, a, b }) => ({
        name,
        a: { ...a, at: place(a.at) },
        b: { ...b, at: place(b.at) },
      })),
    ),
  }
}
