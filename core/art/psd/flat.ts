import { type Channel, type Layer, processCount } from '../layer.ts'
import type { Header } from './header.ts'

export const flatId = 'flat'

/** The picture of a file without layers as a layer of its own. */
export function flatLayer(header: Header, channels: readonly Channel[]): Layer {
  const process = Array.from({ length: Math.min(processCount(header.mode), header.planes) }, (_, i) => i)
  const alpha = channels.some(c => c.kind === 'transparency')
  return {
    id: flatId,
    name: 'Flattened picture',
    kind: 'flat',
    parent: null,
    visible: true,
    opacity: 1,
    fillOpacity: 1,
    blendMode: 'normal',
    clipped: false,
    box: { left: 0, top: 0, right: header.width, bottom: header.height },
    channelIds: alpha ? [...process, -1] : process,
    mask: null,
    vectorMask: null,
    text: null,
    fill: null,
    effects: [],
    adjustment: null,
    findings: [],
  }
}
