import type { Hinge } from '../blank.ts'
import type { Outline, Point } from '../die.ts'
import { snapTimes, steepestDeg } from '../ends/snap-lock.ts'
import { type Thread, threadLean, threadStops } from '../ends/thread-way.ts'
import { reachOf } from './angles.ts'
import { creaseBetween, type Found, outwardOf } from './found.ts'

/**
 * Hinges of a drawn carton. Where a tongue locks behind the edge of the flap opposite, that flap closes first, the side
 * flaps on it, and the tongue finds its way as in a carton that is made from sizes; else they stay as they are.
 */
export function threaded(found: Found): readonly Hinge[] {
  const turned = new Map<string, Partial<Hinge>>()
  for (const end of ['bottom', 'top']) {
    const tongue = found.hinges.find(({ child }) => child === `${end} lock tongue`)
    const [locking, holding] = ['locking', 'holding'].map(kind =>
      found.hinges.find(({ child }) => child === `${end} ${kind} flap`),
    )
    if (tongue === undefined || locking === undefined || holding === undefined) continue
    const thread = threadOf(found, { tongue, locking, holding })
    if (thread === null) continue
    const [begins, ends] = snapTimes.locking
    turned.set(holding.child, between(snapTimes.holder))
    turned.set(locking.child, between(snapTimes.locking))
    for (const side of ['left', 'right']) turned.set(`${end} ${side} side flap`, between(snapTimes.sides))
    turned.set(tongue.child, {
      ...between([snapTimes.tongue, ends]),
      closedDeg: (threadLean(thread) * 180) / Math.PI,
      via: threadStops(thread, begins, ends),
    })
  }
  return found.hinges.map(hinge => ({ ...hinge, ...turned.get(hinge.child) }))
}

const between = ([begins, ends]: readonly [number, number]) => ({ begins, ends })

interface Lock {
  readonly tongue: Hinge
  readonly locking: Hinge
  readonly holding: Hinge
}

/** Sizes of a lock as drawn; null where its tongue cannot pass the edge, or nothing says where that is. */
function threadOf(found: Found, { tongue, locking, holding }: Lock): Thread | null {
  const { outlines, caliperMm: caliper } = found
  for (const side of ['left side', 'right side']) {
    const [here, there] = [locking, holding].map(({ parent }) => creaseBetween(found, parent, side))
    if (here === undefined || there === undefined) continue
    const width = reachOf(here.from, here.to, [there.from, there.to])
    // Along both walls from the side between them.
    const reach = [tongue.from, tongue.to].map(at => reachOf(here.from, here.to, [at]))
    const notch = deepest(outlines.get(holding.child)!, there, holding, reach)
    const thread: Thread = {
      level: outwardOf(locking, holding, outlines.get(locking.child)!),
      flap: reachOf(locking.from, locking.to, [tongue.from, tongue.to]),
      edge: width - notch,
      tongue: reachOf(tongue.from, tongue.to, outlines.get(tongue.child)!),
      caliper,
      ease: caliper / 4,
    }
    const lean = (threadLean(thread) * 180) / Math.PI
    return thread.level >= 0 && thread.edge > thread.flap && lean > 0 && lean < steepestDeg ? thread : null
  }
  return null
}

/** Places across the tongue at which the flap that holds it is looked at. */
const places = 9

/** How deep a flap is where a tongue passes it, mm from its crease, at most. */
function deepest(outline: Outline, corner: Hinge, crease: Hinge, [a = 0, b = 0]: readonly number[]): number {
  const local = outline.map(
    (at): Point => [reachOf(corner.from, corner.to, [at]), reachOf(crease.from, crease.to, [at])],
  )
  let most = 0
  for (let i = 1; i < places; i++) {
    const along = a + ((b - a) * i) / places
    for (const [k, [x, y]] of local.entries()) {
      const [nextX, nextY] = local[(k + 1) % local.length]!
      if (x > along === nextX > along) continue
      most = Math.max(most, y + ((nextY - y) * (along - x)) / (nextX - x))
    }
  }
  return most
}
