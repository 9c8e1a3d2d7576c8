import { checkCancelled, type Task } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { standIn } from '../../reference/pose.ts'
import type { EyeAt, Scene } from '../../reference/scene.ts'
import { flatSolid, type Leaf, onLeaf, type Solid } from '../../reference/solid.ts'
import { Cell, eyeAround } from '../sweep/cell.ts'
import { matterPlace } from '../sweep/map-place.ts'
import { narrowLamps } from '../sweep/narrow.ts'
import { emptyCellLight, type SitePlace, SiteSweep } from '../sweep/site-sweep.ts'
import { degreesOf, type GridLamp, type Steps, sceneUnder } from '../sweep/view-grid.ts'
import { Sight } from './sight.ts'

/** Lamp places, and eye places on a sphere around the carton, each in the middle of a cell. */
export interface FlashGrid {
  readonly lamps: readonly GridLamp[]
  readonly sides: Steps
  readonly rises: Steps
}

/** The hand lamp of a scene all round at three heights, and the eye up to 60° to either side and up or down. */
export function usualFlashGrid({ light }: Pick<Scene, 'light'>): FlashGrid {
  const { pose, form } = light.lamps[0]
  const eyes: Steps = { fromDeg: -60, count: 7, stepDeg: 20 }
  return {
    lamps: [25, 50, 75].flatMap(elevationDeg =>
      Array.from({ length: 12 }, (_, i) => ({
        name: `${30 * i}° round, ${elevationDeg}° up`,
        pose: { ...pose, azimuthDeg: 30 * i, elevationDeg },
        form,
      })),
    ),
    sides: eyes,
    rises: eyes,
  }
}

/** Which panel lights up at which lamp and eye place: of panel p, lamp l and eye e at (p · lamps + l) · eyes + e. */
export interface FlashMap {
  readonly panels: readonly string[]
  readonly lamps: readonly GridLamp[]
  /** Side by side, from below up. */
  readonly eyes: readonly EyeAt[]
  /** Part of the panel's places that the eye sees past the other panels, 0..1. */
  readonly seen: Float32Array
  /** Mean Y of those over the eye's cell, in paper white; NaN where none is seen. */
  readonly luminance: Float32Array
  /** Largest Y of any of them in the cell; NaN where none is seen. */
  readonly most: Float32Array
}

/** Places a panel is judged by, along and across its box. */
const placesASide = 3

/**
 * The folded carton as the scene holds it, under lamps and from eyes all round; a flat panel is a carton of one. Each eye
 * place stands for its cell, in which no flash is missed. Panels that show none of the art are left out.
 * Throws Cancelled when told to stop.
 */
export function flashMap(
  scene: Scene,
  map: MaterialMap,
  sets: readonly Tables[],
  grid: FlashGrid,
  task?: Task,
): FlashMap {
  const { solid = flatSolid(map), ...flat } = scene
  const panels = panelsOf(solid, map, sets)
  const sides = degreesOf(grid.sides)
  const eyes = degreesOf(grid.rises).flatMap(riseDeg => sides.map((sideDeg): EyeAt => ({ sideDeg, riseDeg })))
  const size = panels.length * grid.lamps.length * eyes.length
  const seen = new Float32Array(size)
  const luminance = new Float32Array(size).fill(Number.NaN)
  const most = new Float32Array(size).fill(Number.NaN)
  const found = emptyCellLight()
  const inSight = eyes.map(eyeAt => inSightFrom(flat, solid, panels, eyeAt, map))
  for (const [l, lamp] of grid.lamps.entries()) {
    const lamps = narrowLamps(sceneUnder(flat, lamp))
    for (const [p, panel] of panels.entries()) {
      checkCancelled(task)
      task?.progress?.((l + p / panels.length) / grid.lamps.length, 'flashes of the folded carton')
      const swing = eyeAround({ ...flat, leaf: panel.leaf }, lamp)
      for (const [e, { sideDeg, riseDeg }] of eyes.entries()) {
        const at = (p * grid.lamps.length + l) * eyes.length + e
        const visible = inSight[e]![p]!
        seen[at] = visible.length / panel.places.length
        if (visible.length === 0) continue
        const cell = new Cell(swing, around(sideDeg, grid.sides), around(riseDeg, grid.rises))
        let sum = 0
        let brightest = 0
        for (const i of visible) {
          panel.sweep.over(i, cell, lamps, found)
          sum += found.mean[1]!
          brightest = Math.max(brightest, found.most)
        }
        luminance[at] = sum / visible.length
        most[at] = brightest
      }
    }
  }
  return { panels: panels.map(({ leaf }) => leaf.name), lamps: grid.lamps, eyes, seen, luminance, most }
}

const around = (deg: number, { stepDeg }: Steps) => [deg - stepDeg / 2, deg + stepDeg / 2] as const

interface FlashPanel {
  readonly leaf: Leaf
  readonly places: readonly SitePlace[]
  readonly sweep: SiteSweep
}

/** Panels with places of the art on them; the strips of turned creases have no board of their own. */
function panelsOf({ leaves }: Solid, map: MaterialMap, sets: readonly Tables[]): readonly FlashPanel[] {
  const faces = leaves.length === 1 ? leaves : leaves.filter(({ caliperMm }) => caliperMm > 0)
  return faces.flatMap(leaf => {
    const places = placesOn(leaf, map)
    return places.length === 0 ? [] : [{ leaf, places, sweep: new SiteSweep(map, sets, places) }]
  })
}

function placesOn(leaf: Leaf, map: MaterialMap): readonly SitePlace[] {
  const xs = leaf.outline.map(([x]) => x)
  const ys = leaf.outline.map(([, y]) => y)
  const parts = Array.from({ length: placesASide }, (_, i) => (i + 0.5) / placesASide)
  const along = (values: readonly number[], part: number) =>
    Math.min(...values) + part * (Math.max(...values) - Math.min(...values))
  return parts.flatMap(down =>
    parts.flatMap(across => {
      const [x, y] = [along(xs, across), along(ys, down)]
      const u = x / map.widthMm + 0.5
      const v = 0.5 - y / map.heightMm
      const onArt = u >= 0 && u < 1 && v >= 0 && v < 1
      return onArt && onLeaf(leaf, x, y) ? [matterPlace(map, u, v)] : []
    }),
  )
}

/** Indices of each panel's places that an eye meets before any other leaf. */
function inSightFrom(
  scene: Scene,
  { leaves }: Solid,
  panels: readonly FlashPanel[],
  eyeAt: EyeAt,
  size: { readonly widthMm: number; readonly heightMm: number },
): readonly (readonly number[])[] {
  const view = { ...scene.view, eyeAt }
  const sight = new Sight(leaves, standIn({ ...scene, view }), view.eyeDistanceMm)
  return panels.map(({ leaf, places }) =>
    places.flatMap(({ xMm, yMm }, i) => {
      const [x, y] = [xMm - size.widthMm / 2, yMm - size.heightMm / 2]
      return sight.of(leaves.indexOf(leaf), x, y) > 0 ? [i] : []
    }),
  )
}
