import type { ArtFile, Layer, VectorMask } from '../art/layer.ts'
import { plainMask } from '../art/plain-layer.ts'
import type { Rings } from '../base/polygons.ts'
import type { Task } from '../base/task.ts'

/**
 * All that a layer of a drawn page covers, by its outlines, mm of the document; null where some of it is pictures, shadings
 * or seen through, and where art is pixels.
 */
export function layerRings(file: ArtFile, layer: Layer, task?: Task): Rings | null {
  if (layer.outlines === undefined) return null
  const edges = file.edges?.({ kind: 'layers', layers: new Set([layer.id]) }, task) ?? null
  const step = edges?.steps[0]
  if (edges === null || edges.below !== null || edges.steps.length !== 1 || !step!.lays) return null
  return step!.rings
}

/** Rings as the outline of a layer. */
export const maskOf = (rings: Rings): VectorMask =>
  plainMask(
    rings.map((ring, i) => ({
      closed: true,
      continues: i > 0,
      combine: 'unite',
      knots: ring.map(at => ({ in: at, at, out: at })),
    })),
  )
