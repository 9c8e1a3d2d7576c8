import type { Hinge } from '../blank.ts'
import { cornerTurns, domeOf, gluedCalipers, squaringTurns, squaringUp } from '../ends/square-up.ts'
import { reachOf } from './angles.ts'
import { creaseBetween, type Found, outwardOf } from './found.ts'

/** How far the crease of a pad may be from 45°, and from the corner of the walls that it should run to, mm. */
const slackDeg = 3
const nearMm = 8

/**
 * Hinges of a drawn carton. Where an end has a pad at both corners that are glued before the body is square, body and
 * bottom move as they do in a carton that is made from sizes; else they stay as they are.
 */
export function squaredUp(found: Found): readonly Hinge[] {
  const corners = ['bottom', 'top'].flatMap(end => cornersOf(found, end) ?? [])
  const [first] = corners
  if (first === undefined) return found.hinges
  const { caliperMm } = found
  const over = Math.min(...corners.map(one => one.over))
  const dome = over > 0 ? Math.min(domeOf(caliperMm, over), steepest) : 0
  const poses = squaringUp({ width: first.width, caliper: caliperMm }, dome)
  const walls = squaringTurns(poses)
  const [atBack, atFront] = corners
  const turned = new Map<Hinge, Partial<Hinge>>([
    [atBack!.walls, walls.back],
    [atFront!.walls, walls['right side']],
    [atBack!.open, walls['left side']],
    [atBack!.glue, walls['glue flap']],
    ...corners.flatMap(({ at, flap, under, pad, level }) => {
      const turns = cornerTurns(poses, at, caliperMm, { level, apart: gluedCalipers * caliperMm })
      return [
        [flap, turns.flap],
        [under, turns.flap],
        [pad, turns.pad],
      ] as const
    }),
  ])
  return found.hinges.map(hinge => ({ ...hinge, ...turned.get(hinge) }))
}

/** Steeper than this flaps would hardly be a bottom, radians. */
const steepest = 0.24

interface GluedCorner {
  readonly at: 'back' | 'front'
  /** Between its two walls, between the second and the front, and of the glue flap. */
  readonly walls: Hinge
  readonly open: Hinge
  readonly glue: Hinge
  /** Of the flap with the pad, of the one that the pad comes under, and of the pad. */
  readonly under: Hinge
  readonly flap: Hinge
  readonly pad: Hinge
  /** How far the crease of the flap with the pad is drawn outward of the other's, mm. */
  readonly level: number
  /** From crease to crease of the side, mm. */
  readonly width: number
  /** How far the main flap goes past the middle, mm. */
  readonly over: number
}

/** Back and the side next to it, front and the side that lands on the glue flap; null unless both have a pad. */
function cornersOf(found: Found, end: string): readonly GluedCorner[] | null {
  const { hinges, names, outlines } = found
  const last = names.find(({ part }) => part === 'last wall')?.name
  const glue = hinges.find(({ parent, child }) => [parent, child].includes('glue flap'))
  const second = last === 'left side' ? 'right side' : 'left side'
  if (glue === undefined || last?.endsWith('side') !== true) return null
  const between = (a: string, b: string) => creaseBetween(found, a, b)
  const open = between(second, 'front')
  const flapOf = (wall: string) =>
    hinges.find(({ parent, child }) => parent === wall && child.startsWith(`${end} `))
  const padOf = (flap: Hinge) =>
    hinges.find(
      ({ parent, child }) =>
        parent === flap.child && names.some(({ name, part }) => name === child && part === 'pad'),
    )
  const corners = (['back', 'front'] as const).map((main): GluedCorner | null => {
    const walls = between(main, main === 'back' ? second : last)
    const [mainFlap, sideFlap] = [flapOf(main), flapOf(main === 'back' ? second : last)]
    if (walls === undefined || open === undefined || mainFlap === undefined || sideFlap === undefined)
      return null
    const [under, flap] = padOf(mainFlap) === undefined ? [sideFlap, mainFlap] : [mainFlap, sideFlap]
    const pad = padOf(under)
    if (pad === undefined || !runsToCorner(pad, under, walls)) return null
    const backWalls = between('back', second)!
    const width = reachOf(backWalls.from, backWalls.to, [open.from, open.to])
    return {
      at: main,
      ...{ walls, open, glue, under, flap, pad, width },
      level: outwardOf(under, flap, outlines.get(under.child)!),
      over: reachOf(mainFlap.from, mainFlap.to, outlines.get(mainFlap.child)!) - width / 2,
    }
  })
  return corners.every(one => one !== null) ? corners : null
}

/** Whether the crease of a pad runs at 45° to its flap's, from the corner of two walls. */
function runsToCorner(pad: Hinge, flap: Hinge, walls: Hinge): boolean {
  const direction = ({ from, to }: Hinge) => Math.atan2(to[1] - from[1], to[0] - from[0])
  const turn = (((direction(pad) - direction(flap)) * 180) / Math.PI + 720) % 90
  const [near, far] = [pad.from, pad.to]
    .map(place => reachOf(walls.from, walls.to, [place]))
    .sort((a, b) => a - b)
  return Math.abs(turn - 45) < slackDeg && near! < nearMm && far! > near! + 2
}
