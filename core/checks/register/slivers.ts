import { areaOf, either, offset, type Rings, shared, swept, without } from '../../base/polygons.ts'
import type { PointMm } from '../../effects/outline.ts'
import type { BoxMm } from '../finding.ts'
import { type Affine, affineOf, asDrawn, composed, inverseOf, type Motions, movedPoint } from './groups.ts'
import { drawnAsOne, type Halo, haloRule } from './halo.ts'
import type { Regions } from './regions.ts'
import type { Pair } from './tolerance.ts'

/** What shows of one kind when a pair lies apart. */
export interface Slivers {
  readonly halo: Halo
  /** Where they lie once the groups have moved, mm from the art's lower left corner. */
  readonly rings: Rings
  readonly areaMm2: number
  /** Of the largest circle that fits, mm. */
  readonly widestMm: number
}

/**
 * What a pair shows that was not drawn, by exact areas of polygons: a place counts where the two lie together as they
 * nowhere do, as drawn, on the way that they moved there. So a choke or a trap that moved along is none.
 * @param about the middle of the art, mm
 * @param box   look here only, once the groups have moved; null: everywhere
 */
export function sliversOf(
  regions: Regions,
  pair: Pair,
  motions: Motions,
  about: PointMm,
  box: BoxMm | null = null,
): readonly Slivers[] {
  const [first, second] = pair
  const own = affineOf(motions[first] ?? asDrawn, about)
  const between = composed(inverseOf(own), affineOf(motions[second] ?? asDrawn, about))
  if (!regions.has(first) || !regions.has(second)) return []
  // Everything is reckoned as the first group was drawn, so the box is taken back there.
  const field = box === null ? null : moved([cornersOf(box, 0)], inverseOf(own))
  const reach = furthest(between, field ?? pair.flatMap(group => regions.get(group) ?? []))
  if (reach < 1e-4) return []
  const crop = (rings: Rings) => (field === null ? rings : cropped(rings, field, 3 * reach))
  const a = crop(regions.get(first) ?? [])
  const b = crop(regions.get(second) ?? [])
  if (a.length === 0 || b.length === 0) return []
  const apart = crop(moved(b, between))
  const rule = haloRule(pair)
  const found: { readonly halo: Halo; readonly rings: Rings }[] = []
  const bounds = boundsOf([...a, ...b, ...apart])
  const around = (more: number) => [cornersOf(bounds, more * reach)]
  const back = inverseOf(between)
  const add = (halo: Halo | null, now: () => Rings, drawn: () => Rings) => {
    if (halo === null) return
    const solid = offset(drawn(), -drawnAsOne / 2)
    const passed = swept(
      solid,
      place => movedPoint(back, place),
      place => movedPoint(between, place),
    )
    const rings = without(now(), offset(passed, drawnAsOne / 2))
    if (rings.length > 0) found.push({ halo, rings })
  }
  add(
    rule.aOnly,
    () => without(a, apart),
    () => without(a, b),
  )
  add(
    rule.bOnly,
    () => without(apart, a),
    () => without(b, a),
  )
  add(
    rule.both,
    () => shared(a, apart),
    () => shared(a, b),
  )
  add(
    rule.neither,
    () => without(around(1), either(a, apart)),
    () => without(around(3), either(a, b)),
  )
  const white = rule.hiddenByWhite
    ? crop(
        moved(
          regions.get('white') ?? [],
          composed(inverseOf(own), affineOf(motions.white ?? asDrawn, about)),
        ),
      )
    : []
  return (['foil', 'white'] as const).flatMap(halo => {
    let rings = found.filter(one => one.halo === halo).reduce<Rings>((sum, one) => either(sum, one.rings), [])
    if (white.length > 0) rings = without(rings, white)
    if (field !== null) rings = shared(rings, field)
    rings = moved(rings, own)
    const areaMm2 = rings.length === 0 ? 0 : areaOf(rings)
    return areaMm2 < leastArea ? [] : [{ halo, rings, areaMm2, widestMm: widthOf(rings) }]
  })
}

/** Less is what places rounded to a grid come to, mm². */
const leastArea = 1e-5

/** Diameter of the largest circle that fits into rings, mm, to 1e-3. */
function widthOf(rings: Rings): number {
  let [low, high] = [0, 0.05]
  while (offset(rings, -high).length > 0) [low, high] = [high, 2 * high]
  while (high - low > 5e-4) {
    const middle = (low + high) / 2
    if (offset(rings, -middle).length > 0) low = middle
    else high = middle
  }
  return low + high
}

const moved = (rings: Rings, by: Affine): Rings => rings.map(ring => ring.map(place => movedPoint(by, place)))

/** How far a motion takes anything about some rings, mm: corners go furthest. */
function furthest(by: Affine, rings: Rings): number {
  return cornersOf(boundsOf(rings), 1).reduce((most, [x, y]) => {
    const [toX, toY] = movedPoint(by, [x, y])
    return Math.max(most, Math.hypot(toX - x, toY - y))
  }, 0)
}

function boundsOf(rings: Rings): BoxMm {
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const ring of rings)
    for (const [x, y] of ring) {
      left = Math.min(left, x)
      right = Math.max(right, x)
      bottom = Math.min(bottom, y)
      top = Math.max(top, y)
    }
  return { leftMm: left, bottomMm: bottom, rightMm: right, topMm: top }
}

function cornersOf({ leftMm, bottomMm, rightMm, topMm }: BoxMm, more: number): readonly PointMm[] {
  return [
    [leftMm - more, bottomMm - more],
    [rightMm + more, bottomMm - more],
    [rightMm + more, topMm + more],
    [leftMm - more, topMm + more],
  ]
}

/** What lies in a field or at most so far outside of the box around it. */
function cropped(rings: Rings, field: Rings, more: number): Rings {
  const box = boundsOf(field)
  const near = rings.filter(ring => {
    const { leftMm, bottomMm, rightMm, topMm } = boundsOf([ring])
    return (
      leftMm <= box.rightMm + more &&
      rightMm >= box.leftMm - more &&
      bottomMm <= box.topMm + more &&
      topMm >= box.bottomMm - more
    )
  })
  return shared(near, [cornersOf(box, more)])
}
