import type { ArtFile } from '../art/layer.ts'
import type { Grid } from './grid.ts'
import type { Press } from './inks.ts'
import type { MaterialMap } from './map.ts'
import type { MapPlan } from './plan.ts'
import { madeWhiteTarget } from './plates.ts'
import type { MapSettings } from './settings.ts'
import { spotColor, spotInk } from './spot-color.ts'

/** All of a map but its planes: what pictures look up, whatever lies at a pixel. */
export type MapHead = Omit<MaterialMap, 'planes'>

/** The head of a map that was planned and painted. */
export function mapHead(
  file: ArtFile,
  { width, height, widthMm, heightMm }: Grid,
  plan: MapPlan,
  options: MapSettings & { readonly press: Press },
  painted: Pick<MapHead, 'gratings' | 'grooves'> & { readonly viewSets: NonNullable<MapHead['viewSets']> },
): MapHead {
  const { gratings, grooves, viewSets } = painted
  const inkOf = spotInk(spotColor(file, options.press), options.spots ?? [])
  return {
    width,
    height,
    pixelsPerMm: width / widthMm,
    widthMm,
    heightMm,
    whites: plan.whites.map(({ name, target, opacity, hits, screen, mottle, assumed, stated }, i) => ({
      name,
      coverage: `white${i + 1}`,
      opacity,
      hits,
      screen,
      mottle,
      assumed,
      ...(stated ? { stated } : {}),
      ...(target === madeWhiteTarget ? { made: true as const } : {}),
    })),
    spots: plan.spots.map((plate, i) => ({
      name: plate.name,
      coverage: `spot${i + 1}`,
      ...inkOf(plate),
    })),
    print: options.press.condition ?? null,
    varnish: plan.varnish ? 'varnish' : null,
    gratings,
    grooves,
    ...(viewSets.length > 0 ? { viewSets } : {}),
    areas: plan.areas.map(({ id, name, target, effect }) => ({ id, name, layerId: target.id, effect })),
  }
}
