import { checkCancelled } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { aim, lightOf } from '../../reference/light.ts'
import { standIn } from '../../reference/pose.ts'
import { MapSampler } from '../../reference/sample.ts'
import type { Scene } from '../../reference/scene.ts'
import { emptySite, shadeAll } from '../../reference/shade.ts'
import { fillSpot, type Luminances } from './view.ts'

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
  const one = new Float64Array(3)
  return async (spots, views, task) => {
    const lights = views.map(({ pose, light }) => {
      const held: Scene = { ...scene, light, view: { ...scene.view, pose } }
      const standing = standIn(held)
      return standing.eye[2] > 0 ? lightOf(held, standing) : null
    })
    const out = new Float32Array(spots.length * views.length).fill(Number.NaN)
    for (const [s, spot] of spots.entries()) {
      checkCancelled(task)
      const x = spot.xMm - map.widthMm / 2
      const y = spot.yMm - map.heightMm / 2
      fillSpot(spot, sampler, site)
      for (const [v, light] of lights.entries()) {
        if (light === null) continue
        aim(light, x, y, site)
        shadeAll(site, light, sets, one)
        out[s * views.length + v] = one[1]!
      }
    }
    return out
  }
}
