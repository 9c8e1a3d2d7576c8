import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import type { Vec3 } from '../../reference/pose.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import { flatSolid, type Leaf, onLeaf } from '../../reference/solid.ts'
import type { BoxMm } from '../finding.ts'
import { boxAround, type MapPixels } from '../sweep/map-pixels.ts'
import { matterPlace } from '../sweep/map-place.ts'
import { SiteSweep } from '../sweep/site-sweep.ts'
import { brightPixels } from './bright-pixels.ts'
import { PassingSites } from './passing-sites.ts'
import { PlaceNotes, placeWords } from './place-notes.ts'
import { spreadOver } from './spread-pixels.ts'

/** Some places of a subject that lie on one flat face: the panel, or a leaf of the folded carton. */
export interface SubjectFace {
  /** Index of the leaf among those of the solid. */
  readonly index: number
  /** With the leaf that it is. */
  readonly scene: Scene
  /** Object's frame. */
  readonly normal: Vec3
  /** Made when it is asked for. */
  readonly sweep: SiteSweep
  /** The light of a place: that of the sweep, for many places without holding all their matter. */
  readonly sites: Pick<SiteSweep, 'at'>
  /** Of each site, mm from the middle of the art: x, y. */
  readonly at: Float64Array
  /** Pixels that each site stands for, and those near it: see `SpreadPixel`. */
  readonly counts: Float64Array
  readonly near: Float64Array
  /** What was worked out for each site. */
  readonly notes: PlaceNotes
}

/** An area, or the whole carton, as it is judged for glare. */
export interface Subject {
  readonly name: string
  readonly box: BoxMm
  readonly scene: Scene
  readonly leaves: readonly Leaf[]
  /** Pixels that it has. */
  readonly pixels: number
  /** Its faces by about so many places in all, spread over it; none where no panel shows them. Another draw has other places. */
  faces(places: number, draw?: number): readonly SubjectFace[]
}

/** How a subject looks, held one way. */
export interface Frame {
  readonly pose: PanelPose
  /** Mean Y of what is in sight, in paper white, each place by the part of the picture that it takes. */
  readonly luminance: number
  /** So weighed, mean C*ab of what a screen shows, paper white at 0.8 of its white; what glares has none. */
  readonly chroma: number
}

/**
 * The subject of a set of pixels; null where there are none, or no panel of the carton shows them.
 * @param known what was worked out before: `bright` by `brightPixels`, and notes of a set of places by its name and their words
 */
export function subjectOf(
  scene: Scene,
  map: MaterialMap,
  sets: readonly Tables[],
  name: string,
  pixels: MapPixels,
  known?: {
    readonly bright: Uint8Array
    readonly notes: (set: string, words: Float64Array) => PlaceNotes
  },
): Subject | null {
  const box = boxAround(map, pixels)
  if (box === null) return null
  const { solid = flatSolid(map), ...flat } = scene
  const { leaves } = solid
  const scenes = leaves.map(leaf => ({ ...flat, leaf }))
  const spread = spreadOver(map, pixels, known?.bright ?? brightPixels(map))
  const faces = (places: number, draw = 0): readonly SubjectFace[] => {
    const chosen = spread(places, draw).map(({ column, row, count, near }) => {
      const place = matterPlace(map, (column + 0.5) / map.width, (row + 0.5) / map.height)
      return { place, count, near, x: place.xMm - map.widthMm / 2, y: place.yMm - map.heightMm / 2 }
    })
    return leaves.flatMap((leaf, index): SubjectFace[] => {
      // A crease that has turned shows a strip narrower than the board is thick: it has no board of its own.
      if (leaves.length > 1 && leaf.caliperMm === 0) return []
      const own = chosen.filter(({ x, y }) => onLeaf(leaf, x, y))
      if (own.length === 0) return []
      const ownPlaces = own.map(({ place }) => place)
      let sweep: SiteSweep | undefined
      let passing: PassingSites | undefined
      return [
        {
          index,
          scene: scenes[index]!,
          normal: [leaf.turn[0][2], leaf.turn[1][2], leaf.turn[2][2]],
          get sweep() {
            sweep ??= new SiteSweep(map, sets, ownPlaces)
            return sweep
          },
          get sites() {
            if (own.length <= mostHeld) return this.sweep
            passing ??= new PassingSites(map, sets, ownPlaces)
            return passing
          },
          at: Float64Array.from(own.flatMap(({ x, y }) => [x, y])),
          counts: Float64Array.from(own, ({ count }) => count),
          near: Float64Array.from(own, ({ near }) => near),
          notes:
            known?.notes(`${places} places, draw ${draw}, leaf ${index}`, placeWords(map, ownPlaces)) ??
            new PlaceNotes(placeWords(map, ownPlaces), null),
        },
      ]
    })
  }
  return { name, box, scene: flat, leaves, pixels: pixels.length, faces }
}

/** Places whose matter is held together: about 3 MB. */
const mostHeld = 300
