import { aimArea } from '../../optics/area.ts'
import { roomMean } from '../../optics/room.ts'
import type { Tables } from '../../optics/tables.ts'
import { aim, aimLamp } from '../../reference/light.ts'
import type { Scene } from '../../reference/scene.ts'
import { emptySite } from '../../reference/shade.ts'
import { type HeldView, lightsOf } from './view.ts'

/**
 * Luminance of a perfect white that lies on the panel and is held with it, in each view: what luminance factors are
 * over. 0 where no light falls on the print side, or the eye does not see it.
 * @param x, y mm from the panel's middle
 */
export function whiteLevels(
  scene: Scene,
  tables: Tables,
  views: readonly HeldView[],
  x: number,
  y: number,
): Float64Array {
  const site = emptySite(tables)
  return Float64Array.from(lightsOf(scene, views), light => {
    if (light === null) return 0
    const { lamps, surround } = light
    aim(light, x, y, site)
    let level = surround.level * roomMean(surround.up)
    for (const lamp of lamps) {
      if (lamp.wide) level += lamp.wideScale * Math.max(0, aimArea(lamp, x, y, site.area).light)
      else {
        aimLamp(lamp, site)
        level += site.irradiance
      }
    }
    return level
  })
}
