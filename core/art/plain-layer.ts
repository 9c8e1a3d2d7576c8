import type { Layer } from './layer.ts'

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
