import type { Layer, OutlinePath, VectorMask } from './layer.ts'

/** A layer that the file has no record of: normal, opaque, without mask, text or effects. */
export const plainLayer = (own: Pick<Layer, 'id' | 'name' | 'kind' | 'box' | 'channelIds'>): Layer => ({
  ...own,
  parent: null,
  visible: true,
  opacity: 1,
  fillOpacity: 1,
  blendMode: 'normal',
  clipped: false,
  mask: null,
  vectorMask: null,
  text: null,
  fill: null,
  effects: [],
  adjustment: null,
  findings: [],
})

/** Outlines that are all of a layer's shape: their insides are shown, with hard edges. */
export const plainMask = (paths: readonly OutlinePath[]): VectorMask => ({
  paths,
  inverted: false,
  disabled: false,
  startsFull: false,
  density: 1,
  feather: 0,
  raster: null,
})
