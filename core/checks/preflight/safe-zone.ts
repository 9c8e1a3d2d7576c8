import type { Point } from '../../carton/die.ts'
import type { BoxMm, CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { type ArtLine, artLines, distanceTo } from '../on-art.ts'
import { colourRoles, layerBox, layersOf } from '../printed.ts'
import { mm, saidLimit } from '../words.ts'
import { trimLines } from './cut-lines.ts'
import { found, limitOf, measured } from './found.ts'
import type { Place } from './place.ts'

/** Text and codes too near to a cut or a crease. On a flat panel its own edge is the cut, or the trim box of the page. */
export function safeZoneFindings(input: CheckInput, places: readonly Place[]): readonly CheckFinding[] {
  const limit = limitOf(input)
  const safe = limit('preflight.safeZone')
  const least = limit('preflight.safeLeast')
  const lines = trimLines(input) ?? (input.blank === null ? edgesOf(input) : artLines(input))
  const live = [
    ...layersOf(input, colourRoles)
      .filter(({ kind }) => kind === 'text')
      .map(layer => ({
        of: `layer ${layer.id}`,
        where: `text "${layer.name}"`,
        box: layerBox(input, layer),
      })),
    ...places.map(({ name, kind, box }) => ({ of: `mark ${name}`, where: `marked ${kind} "${name}"`, box })),
  ]
  return live.flatMap(({ of, where, box }): readonly CheckFinding[] => {
    let nearest: { kind: ArtLine['kind']; far: number } | null = null
    for (const { kind, from, to } of lines) {
      const far = apart(box, from, to)
      if (nearest === null || far < nearest.far) nearest = { kind, far }
    }
    if (nearest === null || nearest.far >= safe.value - 1e-6) return []
    const fails = nearest.far < least.value - 1e-6
    const by = fails ? least : safe
    return [
      found({
        severity: fails ? 'error' : 'warning',
        code: 'outside-safe-zone',
        of,
        where,
        message:
          nearest.far === 0
            ? `it runs over a ${nearest.kind}`
            : `it lies ${mm(nearest.far)} from a ${nearest.kind}; the limit is ${saidLimit(by)}`,
        fix: 'Move it further inside its panel.',
        box,
        measured: measured(nearest.far, 'mm'),
        limit: by,
      }),
    ]
  })
}

/** The finished edge of a panel that is not folded. */
function edgesOf({
  map: { widthMm, heightMm },
}: CheckInput): readonly Pick<ArtLine, 'kind' | 'from' | 'to'>[] {
  const corners: readonly Point[] = [
    [0, 0],
    [widthMm, 0],
    [widthMm, heightMm],
    [0, heightMm],
  ]
  return corners.map((from, i) => ({ kind: 'cut', from, to: corners[(i + 1) % 4]! }))
}

/** Distance of a box from a straight piece, mm; 0 where they meet. */
export function apart({ leftMm, rightMm, bottomMm, topMm }: BoxMm, from: Point, to: Point): number {
  // The part of the piece inside the box, side by side (Liang and Barsky).
  let [enters, leaves] = [0, 1]
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  for (const [p, q] of [
    [-dx, from[0] - leftMm],
    [dx, rightMm - from[0]],
    [-dy, from[1] - bottomMm],
    [dy, topMm - from[1]],
  ] as const) {
    if (p === 0) {
      if (q < 0) enters = 2
    } else if (p < 0) enters = Math.max(enters, q / p)
    else leaves = Math.min(leaves, q / p)
  }
  if (enters <= leaves) return 0
  const toBox = ([x, y]: Point) =>
    Math.hypot(Math.max(leftMm - x, 0, x - rightMm), Math.max(bottomMm - y, 0, y - topMm))
  const corners: readonly Point[] = [
    [leftMm, bottomMm],
    [rightMm, bottomMm],
    [rightMm, topMm],
    [leftMm, topMm],
  ]
  return Math.min(toBox(from), toBox(to), ...corners.map(corner => distanceTo(corner, from, to)))
}
