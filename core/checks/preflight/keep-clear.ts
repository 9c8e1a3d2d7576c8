import { grown, type Rings } from '../../base/polygons.ts'
import type { Task } from '../../base/task.ts'
import type { Point } from '../../carton/die.ts'
import { boundsOf } from '../../effects/outline.ts'
import type { BoxMm, CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { MarkedArea } from '../marked.ts'
import { artCreases } from '../on-art.ts'
import { anyInk, bytesOf } from '../plane-bytes.ts'
import { insideOf } from '../register/inside.ts'
import { SpotArea } from '../spot-area.ts'
import { forPixels } from '../white/guarded.ts'
import { mm, mm2, saidLimit } from '../words.ts'
import { found, limitOf, measured } from './found.ts'
import { coated, glueZones } from './glue.ts'

/**
 * Areas that somebody marked to be kept clear: what lies in them, or nearer than the plant holds its register, is found.
 * White is none of it: on foil it is what such an area usually stands on.
 */
export async function keepClearFindings(input: CheckInput, task?: Task): Promise<readonly CheckFinding[]> {
  const areas = (input.marked ?? []).filter(({ kind }) => kind === 'plain')
  if (areas.length === 0) return []
  const layers = await layersOf(input, task)
  return areas.flatMap(area => ofArea(input, area, layers))
}

/** Something flat that may lie in an area. */
interface Flat {
  readonly code: string
  readonly what: string
  readonly fix: string
  readonly lies: (i: number) => boolean
}

async function layersOf(input: CheckInput, task?: Task): Promise<readonly Flat[]> {
  const { map } = input
  const ink = anyInk(map)
  const varnish = bytesOf(map, map.varnish)
  const holography = bytesOf(map, 'area')
  const glue = await glueZones(input, task)
  const knock = (what: string) => `Knock the ${what} out there, or mark the area elsewhere.`
  return [
    { code: 'print-in-clear', what: 'ink', fix: knock('ink'), lies: i => ink[i]! >= coated },
    {
      code: 'varnish-in-clear',
      what: 'varnish',
      fix: knock('varnish'),
      lies: i => varnish !== null && varnish[i]! >= coated,
    },
    {
      code: 'holography-in-clear',
      what: 'holography',
      fix: 'Draw the holography back from there, or mark the area elsewhere.',
      lies: i => holography !== null && holography[i]! > 0,
    },
    {
      code: 'glue-in-clear',
      what: 'glue zone',
      fix: 'Move the area off the glue: nothing of it is seen there.',
      lies: i => glue.some(({ within }) => within[i] === 1),
    },
  ]
}

function ofArea(
  input: CheckInput,
  { name, shape }: MarkedArea,
  flats: readonly Flat[],
): readonly CheckFinding[] {
  const { map } = input
  const tolerance = limitOf(input)('preflight.keepClear')
  const least = limitOf(input)('preflight.leastArea')
  const rings = shape.kind === 'box' ? [cornersOf(shape.box)] : shape.rings
  const reach = boundsOf({ rings })
  if (reach === null) return []
  const wide = grown(rings, tolerance.value)
  const [inArea, inWide] = [insideOf(rings), insideOf(wide)]
  const where = `area to keep clear "${name}"`
  const told = (code: string, fix: string, inside: boolean) => ({
    severity: inside ? ('error' as const) : ('warning' as const),
    code,
    of: `mark ${name}`,
    where,
    fix,
  })
  const near = `nearer to it than ${saidLimit(tolerance)}`
  const spots = flats.flatMap(({ code, what, fix, lies }): readonly CheckFinding[] => {
    const [own, around] = [new SpotArea(map), new SpotArea(map)]
    forPixels(map, boundsOf({ rings: wide }) ?? reach, (i, x, y) => {
      if (!lies(i)) return
      const at = [((x + 0.5) / map.width) * map.widthMm, (1 - (y + 0.5) / map.height) * map.heightMm] as const
      if (inArea(...at)) own.add(x, y)
      else if (inWide(...at)) around.add(x, y)
    })
    const inside = own.mm2 > least.value
    const area = inside ? own : around
    if (area.mm2 <= least.value) return []
    return [
      found({
        ...told(code, fix, inside),
        message: inside ? `${mm2(area.mm2)} of ${what} lie in it` : `${mm2(area.mm2)} of ${what} lie ${near}`,
        box: area.box,
        measured: measured(area.mm2, 'mm²', 1),
        limit: inside ? least : tolerance,
      }),
    ]
  })
  let [own, around] = [0, 0]
  for (const { from, to } of artCreases(input)) {
    own += lengthIn(rings, inArea, from, to)
    around += lengthIn(wide, inWide, from, to)
  }
  if (around === 0) return spots
  const length = own > 0 ? own : around
  return [
    ...spots,
    found({
      ...told('crease-in-clear', 'Move the area off the crease.', own > 0),
      message: own > 0 ? `${mm(length)} of crease run through it` : `${mm(length)} of crease run ${near}`,
      box: reach,
      measured: measured(length, 'mm'),
      limit: tolerance,
    }),
  ]
}

/** Mm of a straight piece inside rings. */
function lengthIn(rings: Rings, inside: (x: number, y: number) => boolean, from: Point, to: Point): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const cuts = rings.flatMap(ring =>
    ring.flatMap(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length]!
      const det = dx * (by - ay) - dy * (bx - ax)
      const s = ((ax - from[0]) * (by - ay) - (ay - from[1]) * (bx - ax)) / det
      const t = ((ax - from[0]) * dy - (ay - from[1]) * dx) / det
      return s > 0 && s < 1 && t >= 0 && t <= 1 ? [s] : []
    }),
  )
  const parts = [0, ...cuts.toSorted((a, b) => a - b), 1]
  let sum = 0
  for (let i = 0; i + 1 < parts.length; i++) {
    const middle = (parts[i]! + parts[i + 1]!) / 2
    if (inside(from[0] + middle * dx, from[1] + middle * dy)) sum += parts[i + 1]! - parts[i]!
  }
  return sum * Math.hypot(dx, dy)
}

const cornersOf = ({ leftMm, rightMm, bottomMm, topMm }: BoxMm): Rings[number] => [
  [leftMm, bottomMm],
  [rightMm, bottomMm],
  [rightMm, topMm],
  [leftMm, topMm],
]
