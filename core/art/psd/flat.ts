import { type Channel, type Layer, processCount } from '../layer.ts'
import { plainLayer } from '../plain-layer.ts'
import type { Header } from './header.ts'

export const flatId = 'flat'

/** The picture of a file without layers as a layer of its own. */
export function flatLayer(header: Header, channels: readonly Channel[]): Layer {
  const process = Array.from({ length: Math.min(processCount(header.mode), header.planes) }, (_, i) => i)
  const alpha = channels.some(c => c.kind === 'transparency')
  return plainLayer({
    id: flatId,
    name: 'Flattened picture',
    kind: 'flat',
    box: { left: 0, top: 0, right: header.width, bottom: header.height },
    channelIds: alpha ? [...process, -1] : process,
  })
}
