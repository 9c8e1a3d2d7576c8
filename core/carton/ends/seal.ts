import type { Hinge, Panel } from '../blank.ts'
import { rounded } from '../outline.ts'
import type { MainPanel } from '../spec.ts'
import { dustFlaps } from './dust-flap.ts'
import { type EndMaker, type EndWork, facing, flap, lengthOf, levelFaces, mm } from './end.ts'

const times = { dust: [0.45, 0.6], inner: [0.6, 0.8], outer: [0.8, 1] } as const

/** Dust flaps, an inner flap and an outer one that is glued to it; the outer one hangs on `on`. */
export function sealEnd(on: MainPanel): EndMaker {
  const under = facing(on)
  return {
    uses: [
      'sealInnerMm',
      'sealEdgeMm',
      'lidInsetMm',
      'dustMm',
      'dustInsetMm',
      'dustShoulderMm',
      'dustTaperDeg',
    ],
    levels: caliper => ({
      ...{ back: caliper, front: caliper, 'left side': 0, 'right side': 0 },
      [on]: 2 * caliper,
    }),
    faces: levelFaces(0.5, 2.5),
    draw(work) {
      const { strip, allow, frame, refuse } = work
      const { caliper, width } = strip
      const innerDepth = allow.sealInnerMm
      const most = width - caliper / 2 - allow.easeMm
      if (innerDepth > most)
        refuse(
          'inner seal flap',
          `it is ${mm(innerDepth)} deep, and the width has room for ${mm(Math.max(0, most))}`,
          `Set it to ${mm(Math.max(0, most))} or less, or make the carton wider.`,
        )
      const outerDepth = width - allow.sealEdgeMm
      const dust = dustFlaps(
        work,
        under,
        width - Math.max(caliper / 2 + allow.easeMm, allow.dustInsetMm),
        times.dust,
      )
      const inner = mainFlap(work, 'inner flap', under, caliper, innerDepth, times.inner)
      const outer = mainFlap(work, 'outer flap', on, 2 * caliper, outerDepth, times.outer)
      const inset = allow.lidInsetMm
      const margin = Math.min(allow.glueMarginMm, innerDepth / 4)
      const end = lengthOf(strip, under)
      return {
        panels: [...dust.panels, inner.panel, outer.panel],
        hinges: [...dust.hinges, inner.hinge, outer.hinge],
        rules: {},
        glue: [
          flap(frame, '', under, [
            [inset + 2 * margin, caliper + innerDepth / 3],
            [inset + 2 * margin, caliper + innerDepth - margin],
            [end - inset - 2 * margin, caliper + innerDepth - margin],
            [end - inset - 2 * margin, caliper + innerDepth / 3],
          ]).outline,
        ],
        meetings: [0, 1].map(which => ({
          name: `${outer.panel.name}, ${which === 0 ? 'left' : 'right'} corner`,
          a: {
            panel: outer.panel.name,
            at: frame.at(on, which === 0 ? inset : lengthOf(strip, on) - inset, 2 * caliper + outerDepth),
          },
          b: { panel: under, at: frame.at(under, which === 0 ? 0 : end, caliper) },
        })),
        reach: { front: 0, back: 0 },
      }
    },
  }
}

function mainFlap(
  { strip, allow, frame }: EndWork,
  name: string,
  on: MainPanel,
  level: number,
  depth: number,
  [begins, ends]: readonly [number, number],
): { readonly panel: Panel; readonly hinge: Hinge } {
  const first = allow.lidInsetMm
  const last = lengthOf(strip, on) - allow.lidInsetMm
  const panel = flap(
    frame,
    name,
    on,
    rounded([
      [first, level],
      [first, level + depth],
      [last, level + depth],
      [last, level],
    ]),
  )
  return {
    panel,
    hinge: {
      name: panel.name,
      parent: on,
      child: panel.name,
      from: frame.at(on, first, level),
      to: frame.at(on, last, level),
      closedDeg: 90,
      begins,
      ends,
    },
  }
}
