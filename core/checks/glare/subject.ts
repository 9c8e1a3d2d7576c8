import { xyzToLab } from '../../color/lab.ts'
import type { XYZ } from '../../color/xyz.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { sceneWhite } from '../../reference/baking.ts'
import { lightOf } from '../../reference/light.ts'
import { standIn, type Vec3 } from '../../reference/pose.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import { type Leaf, onLeaf } from '../../reference/solid.ts'
import type { BoxMm } from '../finding.ts'
import { boxAround, type MapPixels } from '../sweep/map-pixels.ts'
import { classesOf, usualClasses } from '../sweep/site-classes.ts'
import { SiteSweep } from '../sweep/site-sweep.ts'

/** What of an area lies on one flat face: the panel, or a leaf of the folded carton. */
export interface SubjectFace {
  /** With the leaf that it is. */
  readonly scene: Scene
  /** Object's frame. */
  readonly normal: Vec3
  readonly sweep: SiteSweep
  /** Pixels that each site of the sweep stands for. */
  readonly counts: readonly number[]
}

/** An area, or the whole carton, as it is judged for glare. */
export interface Subject {
  readonly name: string
  readonly box: BoxMm
  readonly faces: readonly SubjectFace[]
}

/** How a subject looks, held one way. */
export interface Frame {
  readonly pose: PanelPose
  /** Mean Y of what is in sight, in paper white. */
  readonly luminance: number
  /** Mean of C*ab against the lamps' white; light above paper white counts as if it were as bright as that, glare not at all. */
  readonly chroma: number
}

/** The subject of a set of pixels; null where there are none, or no panel of the carton shows them. */
export function subjectOf(
  scene: Scene,
  map: MaterialMap,
  sets: readonly Tables[],
  name: string,
  pixels: MapPixels,
  classes: number,
): Subject | null {
  const box = boxAround(map, pixels)
  if (box === null) return null
  const { solid, ...flat } = scene
  // A crease that has turned shows a strip narrower than the board is thick: it has no board of its own.
  const leaves = solid?.leaves.filter(({ caliperMm }) => caliperMm > 0) ?? [null]
  const faces = leaves.flatMap((leaf): SubjectFace[] => {
    const own = leaf === null ? pixels : pixelsOn(leaf, map, pixels)
    const found = classesOf(map, own, { ...usualClasses, most: classes }).classes
    if (found.length === 0) return []
    return [
      {
        scene: leaf === null ? flat : { ...flat, leaf },
        normal: leaf === null ? [0, 0, 1] : [leaf.turn[0][2], leaf.turn[1][2], leaf.turn[2][2]],
        sweep: new SiteSweep(map, sets, found),
        counts: found.map(({ count }) => count),
      },
    ]
  })
  return faces.length === 0 ? null : { name, box, faces }
}

function pixelsOn(leaf: Leaf, map: MaterialMap, pixels: MapPixels): MapPixels {
  const { width, height, widthMm, heightMm } = map
  return pixels.filter(pixel => {
    const column = pixel % width
    const row = (pixel - column) / width
    return onLeaf(leaf, ((column + 0.5) / width - 0.5) * widthMm, (0.5 - (row + 0.5) / height) * heightMm)
  })
}

const one = new Float64Array(3)

/** How it looks; null where none of it faces the eye. @param glare Y from which a site has no colour to enjoy */
export function lookAt({ faces }: Subject, pose: PanelPose, glare: number): Frame | null {
  let luminance = 0
  let chroma = 0
  let total = 0
  for (const { scene, sweep, counts } of faces) {
    const held = { ...scene, view: { ...scene.view, pose } }
    const standing = standIn(held)
    if (standing.eye[2] <= 0) continue
    const light = lightOf(held, standing)
    const white = sceneWhite(scene)
    for (const [i, count] of counts.entries()) {
      sweep.at(i, light, one)
      luminance += count * one[1]!
      if (one[1]! <= glare) chroma += count * chromaOf(one, white)
      total += count
    }
  }
  return total === 0 ? null : { pose, luminance: luminance / total, chroma: chroma / total }
}

function chromaOf([X, Y, Z]: Float64Array, white: XYZ): number {
  const scale = Math.min(1, 1 / Y!)
  const [, a, b] = xyzToLab([X! * scale, Y! * scale, Z! * scale], white)
  return Math.hypot(a, b)
}
