import { cellOf, tiltAndTurn } from '../../core/checks/sweep/cell.ts'
import { narrowLamps } from '../../core/checks/sweep/narrow.ts'
import { emptyCellLight, type SitePlace, SiteSweep } from '../../core/checks/sweep/site-sweep.ts'
import { sceneUnder, type View, type ViewGrid, viewsOf } from '../../core/checks/sweep/view-grid.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { lightOf } from '../../core/reference/light.ts'
import { standIn } from '../../core/reference/pose.ts'
import type { Scene } from '../../core/reference/scene.ts'

/** What is swept: sites of a map, seen as a grid says. */
export interface SweepInput {
  /** Of its view the pose is replaced, of its lamps the one in the hand; a place lies on its leaf where it has one. */
  readonly scene: Scene
  readonly map: MaterialMap
  /** Tables of each spectrum among the lamps, as `bakingsOf` names them. */
  readonly sets: readonly Tables[]
  readonly places: readonly SitePlace[]
  readonly grid: ViewGrid
  /** The view alone, or the mean over its cell, in which no flash is missed. */
  readonly over: 'view' | 'cell'
  /** Y alone, or X, Y and Z. */
  readonly components: 1 | 3
}

/** Light by site and view, in units of perfect white under all lamps in the untilted panel's middle; NaN out of sight. */
export interface SweptSites {
  readonly views: readonly View[]
  /** Of site s, view v and component c at (s · views + v) · components + c. */
  readonly light: Float32Array
  /** Largest Y that was met in the cell, of site s and view v at s · views + v; of a view alone its own Y. */
  readonly most: Float32Array
}

/** Every site in every view, one after the other. */
export function sweepSites({ scene, map, sets, places, grid, over, components }: SweepInput): SweptSites {
  const views = viewsOf(grid)
  const light = new Float32Array(places.length * views.length * components)
  const most = new Float32Array(places.length * views.length)
  const sweep = new SiteSweep(map, sets, places)
  const cellLight = emptyCellLight()
  const XYZ = new Float64Array(3)
  for (const [v, view] of views.entries()) {
    const lamp = grid.lamps[view.lamp]!
    const swing = tiltAndTurn(scene, lamp)
    const narrow = narrowLamps(sceneUnder(scene, lamp))
    const held = swing.at(view.pose.tiltForwardDeg, view.pose.turnDeg)
    const standing = standIn(held)
    for (let s = 0; s < places.length; s++) {
      const at = s * views.length + v
      if (over === 'cell') {
        sweep.over(s, cellOf(swing, view), narrow, cellLight)
        if (cellLight.seen === 0) XYZ.fill(Number.NaN)
        else XYZ.set(cellLight.mean)
        most[at] = cellLight.seen === 0 ? Number.NaN : cellLight.most
      } else {
        if (standing.eye[2] > 0) sweep.at(s, lightOf(held, standing), XYZ)
        else XYZ.fill(Number.NaN)
        most[at] = XYZ[1]!
      }
      if (components === 1) light[at] = XYZ[1]!
      else light.set(XYZ, 3 * at)
    }
  }
  return { views, light, most }
}
