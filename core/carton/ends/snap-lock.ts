import type { Hinge } from '../blank.ts'
import type { Point } from '../die.ts'
import { type Corner, rounded } from '../outline.ts'
import { type EndMaker, flap, levelFaces, mm } from './end.ts'
import { type Thread, threadLean, threadStops } from './thread-way.ts'

/** When its leaves close, as shares of the slider. */
export const snapTimes = {
  holder: [0.45, 0.58],
  sides: [0.58, 0.7],
  tongue: 0.6,
  locking: [0.72, 1],
} as const

/** Steepest way of the tongue past the edge that holds it, degrees. */
export const steepestDeg = 40

/**
 * Four flaps without glue. The back's closes first: two legs and between them the edge that holds. The sides' lie on
 * it, the front's on those, and its tongue goes between the sides' to the inside of the edge.
 */
export const snapLock: EndMaker = {
  uses: ['lockTongueMm', 'lockReachMm', 'tuckInsetMm', 'lidInsetMm', 'dustInsetMm'],
  levels: caliper => ({ back: 0, 'left side': caliper, 'right side': caliper, front: 2 * caliper }),
  faces: levelFaces(0.5, 2.5),
  draw({ strip, allow, frame, refuse }) {
    const { caliper, back, width, last } = strip
    const ease = allow.easeMm
    const middle = (back + caliper) / 2
    const half = allow.lockTongueMm / 2
    const edge = width / 2
    const run = Math.min(14 * caliper + ease, 0.45 * edge)
    const bare = { level: 2 * caliper, flap: edge - run, edge, tongue: 0, caliper, ease }
    const dip = threadLean(bare)
    if (!(dip < (steepestDeg * Math.PI) / 180))
      refuse(
        'caliper',
        `a board of ${mm(caliper)} is too thick for a snap-lock bottom ${mm(width)} wide: its tongue cannot pass`,
        'Make the carton wider or the board thinner.',
      )
    const thread: Thread = { ...bare, tongue: (run + allow.lockReachMm) / Math.cos(dip) }
    const tip = edge + allow.lockReachMm
    if (tip > width - 2 * caliper - 1)
      refuse(
        'lock reach',
        `the tongue goes ${mm(allow.lockReachMm)} past the middle, and the back is nearer`,
        `Set it to ${mm(Math.max(0, width - 2 * caliper - 1 - edge))} or less.`,
      )
    const [first, end] = [caliper / 2 + allow.tuckInsetMm, back - allow.tuckInsetMm]
    const legs = 0.76 * width
    const lean = Math.tan(Math.PI / 18) * (legs - edge)
    const opening = half + 1 + ease
    const taper = Math.min(0.06 * legs, back / 20)
    if (
      Math.min(middle - opening - lean - first, end - middle - opening - lean) - taper <
      Math.min(3, back / 10)
    )
      refuse(
        'lock tongue',
        `it is ${mm(allow.lockTongueMm)} wide, which leaves no board for the flap that holds it`,
        'Make the tongue narrower or the carton longer.',
      )
    const round = Math.min(4, (legs - edge) / 3)
    const holder = flap(
      frame,
      'holding flap',
      'back',
      rounded([
        [first, 0],
        [first + taper, legs, round],
        [middle - opening - lean, legs, round],
        [middle - opening, edge],
        [middle + opening, edge],
        [middle + opening + lean, legs, round],
        [end - taper, legs, round],
        [end, 0],
      ]),
    )
    const depth = Math.min(middle - half - 1.5, 0.6 * width)
    const from = Math.max(1, caliper / 2 + ease, width - last)
    const to = width - Math.max(caliper / 2 + ease, allow.dustInsetMm)
    const sides = (['left side', 'right side'] as const).map(side => {
      const corners: readonly Corner[] = [
        [from, caliper],
        [from + Math.min(1.5, width / 15), caliper + depth, 2],
        [width * 0.55, caliper + depth, 3],
        [to - Math.min(1.5, width / 15), caliper + Math.min(depth / 3, 6), 3],
        [to, caliper],
      ]
      return { side, panel: flap(frame, `${side} flap`, side, rounded(corners)) }
    })
    const inset = allow.lidInsetMm
    const length = back + caliper
    const reach = 2 * caliper + thread.flap
    const slope = Math.min(0.25 * thread.flap, middle - inset - half - 2)
    const locking = flap(
      frame,
      'locking flap',
      'front',
      rounded([
        [inset, 2 * caliper],
        [inset + Math.max(0.3, slope), reach, 3],
        [middle - half, reach],
        [middle + half, reach],
        [length - inset - Math.max(0.3, slope), reach, 3],
        [length - inset, 2 * caliper],
      ]),
    )
    const draft = Math.min(half / 4, 0.15 * thread.tongue)
    const tongue = flap(
      frame,
      'lock tongue',
      'front',
      rounded([
        [middle - half, reach],
        [middle - half + draft, reach + thread.tongue, Math.min(6, half / 2, thread.tongue / 2)],
        [middle + half - draft, reach + thread.tongue, Math.min(6, half / 2, thread.tongue / 2)],
        [middle + half, reach],
      ]),
    )
    const hinge = (
      parent: string,
      child: string,
      [a, b]: readonly [Point, Point],
      [begins, ends]: readonly [number, number],
    ): Hinge => ({ name: child, parent, child, from: a, to: b, closedDeg: 90, begins, ends })
    return {
      panels: [holder, ...sides.map(one => one.panel), locking, tongue],
      hinges: [
        hinge('back', holder.name, [frame.at('back', first, 0), frame.at('back', end, 0)], snapTimes.holder),
        ...sides.map(({ side, panel }) =>
          hinge(
            side,
            panel.name,
            [frame.at(side, from, caliper), frame.at(side, to, caliper)],
            snapTimes.sides,
          ),
        ),
        hinge(
          'front',
          locking.name,
          [frame.at('front', inset, 2 * caliper), frame.at('front', length - inset, 2 * caliper)],
          snapTimes.locking,
        ),
        {
          ...hinge(
            locking.name,
            tongue.name,
            [frame.at('front', middle - half, reach), frame.at('front', middle + half, reach)],
            [snapTimes.tongue, 1],
          ),
          closedDeg: (dip * 180) / Math.PI,
          via: threadStops(thread, ...snapTimes.locking),
        },
      ],
      rules: {},
      glue: [],
      meetings: [],
      reach: { front: thread.tongue, back: Math.sin(dip) * thread.tongue },
    }
  },
}
