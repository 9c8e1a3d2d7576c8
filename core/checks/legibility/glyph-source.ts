import type { ArtFile, Layer } from '../../art/layer.ts'
import type { Task } from '../../base/task.ts'
import { coverageRows } from '../../material/coverage.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { BoxMm } from '../finding.ts'
import { layerRings, maskOf } from '../layer-rings.ts'
import { markGlyphs } from './mark.ts'
import type { TypeObject } from './object.ts'
import { outlineGlyphs } from './outlines.ts'
import type { GlyphSource } from './raster.ts'
import { type Samples, sampledGlyphs, samplesUnder } from './samples.ts'

/** Glyphs of an object; null where it has none. */
export function glyphsOf(
  file: ArtFile | null,
  map: MaterialMap,
  object: TypeObject,
  task?: Task,
): Promise<GlyphSource | null> {
  if (object.kind === 'marked') return markGlyphs(file, map, object.mark, object.box)
  if (file === null) return Promise.resolve(null)
  const { layer } = object
  const mask = layer.vectorMask
  // Of a layer that is drawn the outline is the type itself; elsewhere text may have a mask that cuts it.
  const isType = object.kind === 'shapes' || layer.outlines !== undefined
  if (isType && mask !== null) return Promise.resolve(outlineGlyphs(file.art, mask, map))
  const rings = layerRings(file, layer, task)
  if (rings !== null) return Promise.resolve(outlineGlyphs(file.art, maskOf(rings), map))
  return layerGlyphs(file, map, layer, object.box, task)
}

async function layerGlyphs(
  file: ArtFile,
  map: MaterialMap,
  layer: Layer,
  box: BoxMm,
  task: Task | undefined,
): Promise<GlyphSource | null> {
  const { art } = file
  const { left, top, right, bottom } = samplesUnder(box, map, art)
  if (right <= left || bottom <= top) return null
  const quiet = task?.signal ? { signal: task.signal } : undefined
  const rows = coverageRows(
    file,
    { kind: 'layers', layers: [layer], amount: { from: 'alpha' } },
    { rows: bottom - top, keep: 0, task: quiet },
    'amount',
  )
  const part = await rows.over(top, bottom)
  if (part === null) return null
  const full = opacityOf(file.art.layers, layer)
  if (!(full > 0)) return null
  const samples: Samples = {
    left: part.box.left,
    top: part.box.top,
    width: part.box.right - part.box.left,
    height: part.box.bottom - part.box.top,
    data: part.data.map(value => value / full),
    acrossArt: art.width,
    downArt: art.height,
  }
  return samples.data.some(value => value > least) ? sampledGlyphs(samples, map) : null
}

/** Alpha of the layer where nothing of it is left out. */
function opacityOf(layers: readonly Layer[], layer: Layer): number {
  const parent = layers.find(one => one.id === layer.parent)
  const own = layer.opacity * layer.fillOpacity
  return parent === undefined ? own : own * opacityOf(layers, parent)
}

/** Less alpha than this prints nothing that anybody sees. */
const least = 0.02
