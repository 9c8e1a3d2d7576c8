import { rounded } from '../outline.ts'
import type { FoldRule, MainPanel } from '../spec.ts'
import { dustFlaps } from './dust-flap.ts'
import { type EndMaker, facing, flap, lengthOf, levelFaces, mm } from './end.ts'
import { type Tuck, tuckClear, tuckStops } from './tuck-way.ts'

const times = { dust: [0.45, 0.6], tongue: 0.6, lid: [0.7, 1] } as const

/** A lid over two dust flaps, with a tongue that slides in behind the panel it closes on. */
export function tuckEnd(lid: MainPanel, rule: FoldRule): EndMaker {
  return {
    uses: [
      'tuckMm',
      'tuckRadiusMm',
      'tuckInsetMm',
      'lidInsetMm',
      'dustMm',
      'dustInsetMm',
      'dustShoulderMm',
      'dustTaperDeg',
    ],
    levels: caliper => ({ back: caliper, front: caliper, 'left side': 0, 'right side': 0 }),
    faces: levelFaces(0.5, 1.5),
    draw(work) {
      const { strip, allow, frame, refuse } = work
      const { caliper, back, width } = strip
      const opposite = facing(lid)
      const tuck: Tuck = {
        lid: width - caliper - allow.easeMm,
        tongue: allow.tuckMm,
        caliper,
        ease: allow.easeMm,
      }
      if (!(tuck.lid > 0) || tuck.tongue > 0.9 * tuck.lid)
        refuse(
          'tuck',
          `it is ${mm(tuck.tongue)} deep and its lid ${mm(Math.max(0, tuck.lid))}, which it must be well under`,
          `Set the tuck to ${mm(Math.max(0, 0.9 * tuck.lid))} or less, or make the carton wider.`,
        )
      const length = lengthOf(strip, lid)
      const inset = allow.lidInsetMm
      const sides = [caliper / 2 + allow.tuckInsetMm, back - caliper / 2 - allow.tuckInsetMm] as const
      if (sides[1] - sides[0] < 5)
        refuse(
          'length',
          `${mm(Math.max(0, sides[1] - sides[0]))} is left for the tongue, which needs 5 mm`,
          'Make the carton longer or the board thinner.',
        )
      const edge = caliper + tuck.lid
      const leaf = flap(frame, 'lid', lid, [
        [inset, caliper],
        [inset, edge],
        [length - inset, edge],
        [length - inset, caliper],
      ])
      const radius = Math.min(allow.tuckRadiusMm, tuck.tongue, (sides[1] - sides[0]) / 2)
      const draft = Math.min(1, tuck.tongue / 12)
      const tongue = flap(
        frame,
        'tongue',
        lid,
        rounded([
          [sides[0], edge],
          [sides[0] + draft, edge + tuck.tongue, radius],
          [sides[1] - draft, edge + tuck.tongue, radius],
          [sides[1], edge],
        ]),
      )
      const dust = dustFlaps(work, lid, tuckClear(tuck) - allow.easeMm, times.dust)
      return {
        panels: [...dust.panels, leaf, tongue],
        hinges: [
          ...dust.hinges,
          {
            name: leaf.name,
            parent: lid,
            child: leaf.name,
            from: frame.at(lid, inset, caliper),
            to: frame.at(lid, length - inset, caliper),
            closedDeg: 90,
            begins: times.lid[0],
            ends: times.lid[1],
          },
          {
            name: tongue.name,
            parent: leaf.name,
            child: tongue.name,
            from: frame.at(lid, sides[0], edge),
            to: frame.at(lid, sides[1], edge),
            closedDeg: 90,
            begins: times.tongue,
            ends: times.lid[1],
            via: tuckStops(tuck, ...times.lid),
          },
        ],
        rules: { [leaf.name]: rule },
        glue: [],
        meetings: [0, 1].map(end => ({
          name: `${leaf.name}, ${end === 0 ? 'left' : 'right'} corner`,
          a: { panel: leaf.name, at: frame.at(lid, end === 0 ? inset : length - inset, edge) },
          b: {
            panel: opposite,
            at: frame.at(opposite, end === 0 ? 0 : lengthOf(strip, opposite), caliper),
          },
        })),
        reach: {
          [lid]: 0,
          [opposite]: tuck.tongue,
        } as Readonly<Record<MainPanel, number>>,
      }
    },
  }
}
