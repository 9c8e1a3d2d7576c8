import type { CompositeOptions } from '../art/composite.ts'
import type { Art, Box, Layer } from '../art/layer.ts'

/** The layers with pixels that a layer or group stands for, bottom to top; adjustments have none of their own. */
export function leavesOf(art: Art, layerId: string): readonly Layer[] {
  const layer = art.layers.find(one => one.id === layerId)
  if (!layer) return []
  if (layer.kind !== 'group') return layer.kind === 'adjustment' ? [] : [layer]
  return art.layers.filter(one => one.parent === layerId).flatMap(child => leavesOf(art, child.id))
}

/** The groups that a layer lies in, nearest first. */
export function ancestorsOf(art: Art, layer: Layer): readonly Layer[] {
  const parent = layer.parent === null ? undefined : art.layers.find(one => one.id === layer.parent)
  return parent ? [parent, ...ancestorsOf(art, parent)] : []
}

/** The unclipped layer that a clipped one is cut to; itself when it is not clipped. */
export function baseOf(art: Art, layer: Layer): Layer {
  if (!layer.clipped) return layer
  const siblings = art.layers.filter(one => one.parent === layer.parent)
  for (let i = siblings.findIndex(one => one.id === layer.id) - 1; i >= 0; i--)
    if (!siblings[i]!.clipped) return siblings[i]!
  return layer
}

/**
 * How to composite just these layers, as if they, their groups and what they are clipped to were switched on:
 * plates are often switched off in the working file because they hide the artwork.
 */
export function justThese(art: Art, layers: readonly Layer[]): Pick<CompositeOptions, 'include' | 'visible'> {
  const chosen = new Set(layers.map(layer => layer.id))
  const shown = new Set(chosen)
  for (const layer of layers)
    for (const other of [baseOf(art, layer), ...ancestorsOf(art, layer)]) shown.add(other.id)
  return { include: layer => chosen.has(layer.id), visible: layer => shown.has(layer.id) }
}

/**
 * Where these layers can have pixels: their boxes together, inside the document. A fill without a raster reaches
 * everywhere. Empty layers give an empty box.
 */
export function reachOf(art: Art, layers: readonly Layer[]): Box {
  const all: Box = { left: 0, top: 0, right: art.width, bottom: art.height }
  let box: Box = { left: art.width, top: art.height, right: 0, bottom: 0 }
  for (const layer of layers) {
    const own = layer.fill !== null ? all : layer.box
    if (own.right <= own.left || own.bottom <= own.top) continue
    box = {
      left: Math.min(box.left, Math.max(0, own.left)),
      top: Math.min(box.top, Math.max(0, own.top)),
      right: Math.max(box.right, Math.min(art.width, own.right)),
      bottom: Math.max(box.bottom, Math.min(art.height, own.bottom)),
    }
  }
  return box.right > box.left && box.bottom > box.top ? box : { left: 0, top: 0, right: 0, bottom: 0 }
}
