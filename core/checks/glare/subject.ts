import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { lightOf } from '../../reference/light.ts'
import { fromLeaf, standIn, type Vec3 } from '../../reference/pose.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import { flatSolid, type Leaf, onLeaf } from '../../reference/solid.ts'
import type { BoxMm } from '../finding.ts'
import { boxAround, type MapPixels } from '../sweep/map-pixels.ts'
import { matterPlace } from '../sweep/map-place.ts'
import { SiteSweep } from '../sweep/site-sweep.ts'
import { shownChroma } from './shown-chroma.ts'
import { Sight } from './sight.ts'
import { spreadPixels } from './spread-pixels.ts'

/** Some places of a subject that lie on one flat face: the panel, or a leaf of the folded carton. */
export interface SubjectFace {
  /** Index of the leaf among those of the solid. */
  readonly index: number
  /** With the leaf that it is. */
  readonly scene: Scene
  /** Object's frame. */
  readonly normal: Vec3
  readonly sweep: SiteSweep
  /** Of each site, mm from the middle of the art: x, y. */
  readonly at: Float64Array
  /** Pixels that each site stands for. */
  readonly counts: Float64Array
}

/** An area, or the whole carton, as it is judged for glare. */
export interface Subject {
  readonly name: string
  readonly box: BoxMm
  readonly scene: Scene
  readonly leaves: readonly Leaf[]
  /** Pixels that it has. */
  readonly pixels: number
  /** Its faces by so many places in all, evenly spread; none where no panel shows them. Another draw has other places. */
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

/** The subject of a set of pixels; null where there are none, or no panel of the carton shows them. */
export function subjectOf(
  scene: Scene,
  map: MaterialMap,
  sets: readonly Tables[],
  name: string,
  pixels: MapPixels,
): Subject | null {
  const box = boxAround(map, pixels)
  if (box === null) return null
  const { solid = flatSolid(map), ...flat } = scene
  const { leaves } = solid
  const scenes = leaves.map(leaf => ({ ...flat, leaf }))
  const faces = (places: number, draw = 0): readonly SubjectFace[] => {
    const spread = spreadPixels(map, pixels, places, draw).map(({ column, row, count }) => {
      const place = matterPlace(map, (column + 0.5) / map.width, (row + 0.5) / map.height)
      return { place, count, x: place.xMm - map.widthMm / 2, y: place.yMm - map.heightMm / 2 }
    })
    return leaves.flatMap((leaf, index): SubjectFace[] => {
      // A crease that has turned shows a strip narrower than the board is thick: it has no board of its own.
      if (leaves.length > 1 && leaf.caliperMm === 0) return []
      const own = spread.filter(({ x, y }) => onLeaf(leaf, x, y))
      if (own.length === 0) return []
      return [
        {
          index,
          scene: scenes[index]!,
          normal: [leaf.turn[0][2], leaf.turn[1][2], leaf.turn[2][2]],
          sweep: new SiteSweep(
            map,
            sets,
            own.map(({ place }) => place),
          ),
          at: Float64Array.from(own.flatMap(({ x, y }) => [x, y])),
          counts: Float64Array.from(own, ({ count }) => count),
        },
      ]
    })
  }
  return { name, box, scene: flat, leaves, pixels: pixels.length, faces }
}

/**
 * How some faces of a subject look; null where less than a twentieth of them is in sight, by the picture that they take
 * over what they would take straight on.
 * @param glare Y from which a site has no colour to enjoy
 */
export function lookAt(
  { scene, leaves }: Pick<Subject, 'scene' | 'leaves'>,
  faces: readonly SubjectFace[],
  pose: PanelPose,
  glare: number,
): Frame | null {
  const view = { ...scene.view, pose }
  const standing = standIn({ ...scene, view })
  const sight = new Sight(leaves, standing, view.eyeDistanceMm)
  let luminance = 0
  let chroma = 0
  let seen = 0
  let all = 0
  for (const face of faces) {
    const own = fromLeaf(standing, leaves[face.index]!)
    const light = own.eye[2] > 0 ? lightOf(scene, own) : null
    for (const [i, count] of face.counts.entries()) {
      all += count
      if (light === null) continue
      const weight = count * sight.of(face.index, face.at[2 * i]!, face.at[2 * i + 1]!)
      if (weight === 0) continue
      face.sweep.at(i, light, one)
      seen += weight
      luminance += weight * one[1]!
      if (one[1]! <= glare) chroma += weight * shownChroma(scene, one)
    }
  }
  return seen === 0 || seen < leastSeen * all
    ? null
    : { pose, luminance: luminance / seen, chroma: chroma / seen }
}

const one = new Float64Array(3)
const leastSeen = 0.05
