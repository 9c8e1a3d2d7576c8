import { checkCancelled } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { aim, type Light } from '../../reference/light.ts'
import { MapSampler } from '../../reference/sample.ts'
import type { Scene } from '../../reference/scene.ts'
import { emptySite, type Site, shadeAll } from '../../reference/shade.ts'
import { fillSpot, type HeldView, type Luminances, lightsOf } from './view.ts'

/**
 * Luminances as the exact picture has them, spot by spot and view by view. All is taken to be printed on the board:
 * leaves that lie apart are left out.
 * @param sets tables of each spectrum among the lamps, as `bakingsOf` names them
 */
export function shadedLuminances(scene: Scene, map: MaterialMap, sets: readonly Tables[]): Luminances {
  const [first, ...more] = sets
  if (first === undefined) throw new RangeError('tables: expected one set a spectrum, got none')
  const site = emptySite(first, ...more)
  const sampler = new MapSampler(map)
  const known = new WeakMap<readonly HeldView[], readonly HeldEye[]>()
  return async (spots, views, task) => {
    const eyes = known.get(views) ?? eyesOf(scene, views)
    known.set(views, eyes)
    const out = new Float32Array(spots.length * views.length).fill(Number.NaN)
    for (const [s, spot] of spots.entries()) {
      checkCancelled(task)
      fillSpot(spot, sampler, site)
      const x = spot.xMm - map.widthMm / 2
      const y = spot.yMm - map.heightMm / 2
      for (const eye of eyes) lookFrom(eye, x, y, site, sets, out, s * views.length)
    }
    return out
  }
}

/** All views that hold the panel in one way in one room: they differ by their lamps alone. */
interface HeldEye {
  /** Without a lamp. */
  readonly room: Light
  /** Without the room. */
  readonly lamps: readonly { readonly view: number; readonly light: Light }[]
}

/** Views by how they hold the panel; those that show its back are left out. */
function eyesOf(scene: Scene, views: readonly HeldView[]): readonly HeldEye[] {
  const eyes = new Map<string, HeldEye & { readonly lamps: { view: number; light: Light }[] }>()
  const lights = lightsOf(scene, views)
  for (const [view, { pose, light }] of views.entries()) {
    const lit = lights[view]!
    if (lit === null) continue
    const { tiltForwardDeg, tiltSideDeg, turnDeg } = pose
    const key = [tiltForwardDeg, tiltSideDeg, turnDeg, light.roomLevel, ...lit.roomParts].join()
    const eye = eyes.get(key) ?? { room: { ...lit, lamps: [] }, lamps: [] }
    eyes.set(key, eye)
    eye.lamps.push({ view, light: { ...lit, surround: { ...lit.surround, level: 0 } } })
  }
  return [...eyes.values()]
}

const one = new Float64Array(3)

/** Light of the room and of each view's lamps, which add up; the room's is summed once. */
function lookFrom(
  { room, lamps }: HeldEye,
  x: number,
  y: number,
  site: Site,
  sets: readonly Tables[],
  out: Float32Array,
  from: number,
): void {
  aim(room, x, y, site)
  const Y = shadeAll(site, room, sets, one)[1]!
  for (const { view, light } of lamps) out[from + view] = Y + shadeAll(site, light, sets, one)[1]!
}
