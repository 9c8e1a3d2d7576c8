import type { Task } from '../../base/task.ts'
import { type Light, lightOf } from '../../reference/light.ts'
import { standIn } from '../../reference/pose.ts'
import type { MapSampler } from '../../reference/sample.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import type { Site } from '../../reference/site.ts'

/** One way to light the panel and to hold it, with its part of all views. */
export interface HeldView {
  readonly pose: PanelPose
  readonly light: Scene['light']
  /** ≥ 0; only ratios count. */
  readonly weight: number
  /** What the lamp is called, where views are of several. */
  readonly under?: string
}

/** What is printed at a spot, 0..1 each; the gratings are those of the map's pixel. */
export interface Plates {
  readonly metal: number
  readonly varnish: number
  /** Cyan, magenta, yellow, black. */
  readonly inks: readonly number[]
  readonly spots: readonly number[]
  readonly whites: readonly number[]
}

/** A class of equal places: one of them, and the part that the class has. */
export interface Spot {
  /** Mm from the art's lower left corner, y up. */
  readonly xMm: number
  readonly yMm: number
  /** Pixel of the map whose gratings and mottle lie there. */
  readonly column: number
  readonly row: number
  readonly plates: Plates
  readonly weight: number
}

/**
 * Luminance of spots in views, in perfect white under all lamps in the untilted panel's middle; spot after spot:
 * `[spot · views + view]`. NaN where the print side is not seen. Throws Cancelled.
 */
export type Luminances = (
  spots: readonly Spot[],
  views: readonly HeldView[],
  task?: Task,
) => Promise<Float32Array>

/** Light of each view; null where it shows the panel's back. Made once for the same scene and views. */
export function lightsOf(scene: Scene, views: readonly HeldView[]): readonly (Light | null)[] {
  const known = lightsOfViews.get(views)
  if (known?.scene === scene) return known.lights
  const lights = views.map(({ pose, light }) => {
    const held: Scene = { ...scene, light, view: { ...scene.view, pose } }
    const standing = standIn(held)
    return standing.eye[2] > 0 ? lightOf(held, standing) : null
  })
  lightsOfViews.set(views, { scene, lights })
  return lights
}

const lightsOfViews = new WeakMap<
  readonly HeldView[],
  { readonly scene: Scene; readonly lights: readonly (Light | null)[] }
>()

/** Angle of the panel's normal from straight-on, degrees, 0..180. */
export function tiltOf({ tiltForwardDeg, tiltSideDeg }: PanelPose): number {
  const cos = Math.cos(tiltForwardDeg * toRad) * Math.cos(tiltSideDeg * toRad)
  return Math.acos(Math.min(1, Math.max(-1, cos))) / toRad
}

/** Sets the matter of a site to a spot's. */
export function fillSpot({ column, row, plates }: Spot, sampler: MapSampler, site: Site): void {
  sampler.fill(column, row, site)
  site.metal = plates.metal
  site.varnish = plates.varnish
  site.inks.set(plates.inks)
  site.spots.set(plates.spots)
  site.whites.set(plates.whites)
}

const toRad = Math.PI / 180
