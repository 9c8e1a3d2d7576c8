import type { Art } from '../art/layer.ts'
import type { Rings } from '../base/polygons.ts'
import type { Task } from '../base/task.ts'
import type { MaterialMap } from '../material/map.ts'
import { maskOf } from './layer-rings.ts'
import { measureSize } from './legibility/measure.ts'
import { around, stretch } from './legibility/object.ts'
import { outlineGlyphs } from './legibility/outlines.ts'
import { sampledGlyphs } from './legibility/samples.ts'
import type { TypeSize } from './type-size.ts'
import type { CoveragePlane } from './white/contour.ts'

/**
 * Size of a text layer's type, read from its shape as the legibility check reads it; null where there is none.
 * @param text    what is written
 * @param pixelMm side of a pixel of the shape
 * @param xRatio  x-height over point size
 */
export function layerTypeSize(
  { width, height, data }: CoveragePlane,
  text: string,
  pixelMm: number,
  xRatio: number,
  task?: Task,
): TypeSize | null {
  const size = { width, height, widthMm: width * pixelMm, heightMm: height * pixelMm }
  const amount = Float32Array.from(data, value => value / 255)
  const samples = { left: 0, top: 0, width, height, data: amount, acrossArt: width, downArt: height }
  const box = { leftMm: 0, bottomMm: 0, rightMm: size.widthMm, topMm: size.heightMm }
  return measureSize(sampledGlyphs(samples, size), box, text, xRatio, task)
}

/** The same of type that is outlines, mm of the document. */
export function outlinedTypeSize(
  rings: Rings,
  art: Art,
  map: MaterialMap,
  text: string,
  xRatio: number,
  task?: Task,
): TypeSize | null {
  if (rings.length === 0) return null
  const [x, y] = stretch(art, map)
  const box = around(rings.flat().map(([u, v]) => [u * x, v * y]))
  return measureSize(outlineGlyphs(art, maskOf(rings), map), box, text, xRatio, task)
}
