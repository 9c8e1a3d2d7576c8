import type { Art, Box, Layer } from '../art/layer.ts'
import type { EffectFrame } from '../effects/effect.ts'
import { baseOf } from '../roles/members.ts'

/**
 * The place of layers on the panel, for effects with a middle: the box of their pixels, cut to a mask that hides all
 * around itself and to what they are clipped to. Parts outside the document count, so that a ring cut by the edge
 * keeps its centre. Without layers, or where they reach everywhere, the whole panel.
 */
export function frameOf(
  art: Art,
  layers: readonly Layer[],
  panel: { readonly widthMm: number; readonly heightMm: number },
): EffectFrame {
  const boxes = layers.map(layer => outlineBox(art, layer)).filter(isFull)
  const whole: Box = { left: 0, top: 0, right: art.width, bottom: art.height }
  const box: Box = boxes.length === 0 ? whole : boxes.reduce(union)
  const x = panel.widthMm / art.width
  const y = panel.heightMm / art.height
  return {
    centerXMm: ((box.left + box.right) / 2) * x,
    centerYMm: panel.heightMm - ((box.top + box.bottom) / 2) * y,
    widthMm: (box.right - box.left) * x,
    heightMm: (box.bottom - box.top) * y,
  }
}

function outlineBox(art: Art, layer: Layer): Box {
  let box = layer.box
  const { mask } = layer
  const raster = layer.vectorMask?.disabled ? null : layer.vectorMask?.raster
  if (mask && !mask.disabled && !mask.inverted && mask.outside === 0) box = within(box, mask.box)
  if (raster && raster.outside === 0) box = within(box, raster.box)
  const base = baseOf(art, layer)
  return base === layer ? box : within(box, outlineBox(art, base))
}

/** The part of a box inside another; the other itself for a fill, which has no box of its own. */
function within(box: Box, limit: Box): Box {
  if (!isFull(box)) return limit
  if (!isFull(limit)) return box
  return {
    left: Math.max(box.left, limit.left),
    top: Math.max(box.top, limit.top),
    right: Math.min(box.right, limit.right),
    bottom: Math.min(box.bottom, limit.bottom),
  }
}

function union(a: Box, b: Box): Box {
  return {
    left: Math.min(a.left, b.left),
    top: Math.min(a.top, b.top),
    right: Math.max(a.right, b.right),
    bottom: Math.max(a.bottom, b.bottom),
  }
}

const isFull = (box: Box) => box.right > box.left && box.bottom > box.top
