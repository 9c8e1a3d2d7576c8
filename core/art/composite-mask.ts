import { boxHeight, boxWidth } from './box.ts'
import { type PlaneStore, samplesOver } from './composite-planes.ts'
import type { Art, Box, Layer } from './layer.ts'
import { blurReach, gaussianBlur } from './raster-blur.ts'
import { fillCoverage } from './raster-fill.ts'

/** What a layer's pixel mask and vector mask let through over `box`, 0..1; null when nothing masks. */
export async function maskShare(
  art: Art,
  layer: Layer,
  box: Box,
  planes: PlaneStore,
): Promise<Float32Array | null> {
  const pixel = await pixelShare(layer, box, planes)
  const vector = vectorShare(art, layer, box)
  if (!pixel || !vector) return pixel ?? vector
  return pixel.map((v, i) => v * vector[i]!)
}

async function pixelShare(layer: Layer, box: Box, planes: PlaneStore): Promise<Float32Array | null> {
  const mask = layer.mask
  if (!mask || mask.disabled) return null
  const plane = await planes.mask(layer.id)
  if (!plane) return null
  const outside = mask.outside / 255
  const share = feathered(box, mask.feather, wide => samplesOver(plane, wide, outside))
  return weakened(share, mask.density, mask.inverted)
}

function vectorShare(art: Art, layer: Layer, box: Box): Float32Array | null {
  const mask = layer.vectorMask
  if (!mask || mask.disabled || hasOwnOutline(layer)) return null
  const ppi = art.resolutionPpi ?? 72
  const share = feathered(box, mask.feather, wide => fillCoverage(mask, wide, ppi, art.height))
  return weakened(share, mask.density, mask.inverted)
}

/** A shape's raster already ends at its outline; masking it again would thin its edges. */
function hasOwnOutline(layer: Layer): boolean {
  return layer.kind === 'shape' && layer.channelIds.includes(-1) && !isSoftShape(layer)
}

/** A solid shape whose outline is feathered or lets through: its raster ends at the hard outline, its picture does not. */
export function isSoftShape(layer: Layer): boolean {
  const mask = layer.vectorMask
  return (
    layer.kind === 'shape' &&
    layer.fill !== null &&
    mask !== null &&
    !mask.disabled &&
    (mask.density < 1 || mask.feather > 0)
  )
}

function feathered(box: Box, radius: number, draw: (box: Box) => Float32Array): Float32Array {
  if (radius <= 0) return draw(box)
  const reach = blurReach(radius)
  const wide = {
    left: box.left - reach,
    top: box.top - reach,
    right: box.right + reach,
    bottom: box.bottom + reach,
  }
  const soft = gaussianBlur(draw(wide), boxWidth(wide), boxHeight(wide), radius)
  const out = new Float32Array(boxWidth(box) * boxHeight(box))
  for (let y = 0; y < boxHeight(box); y++) {
    const from = (y + reach) * boxWidth(wide) + reach
    out.set(soft.subarray(from, from + boxWidth(box)), y * boxWidth(box))
  }
  return out
}

/** Inverts, then lifts what the mask hides: density 0 hides nothing. */
function weakened(share: Float32Array, density: number, inverted: boolean): Float32Array {
  if (density >= 1 && !inverted) return share
  return share.map(v => 1 - density * (inverted ? v : 1 - v))
}
