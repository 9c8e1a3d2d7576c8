import { type Channel, type ColorMode, type Layer, processCount } from './layer.ts'
import { plainLayer } from './plain-layer.ts'

export const flatId = 'flat'

/** A picture without layers: its size and how many planes it has. */
export interface FlatSize {
  readonly mode: ColorMode
  readonly width: number
  readonly height: number
  readonly planes: number
}

/** The picture of a file without layers as a layer of its own. */
export function flatLayer({ mode, width, height, planes }: FlatSize, channels: readonly Channel[]): Layer {
  const process = Array.from({ length: Math.min(processCount(mode), planes) }, (_, i) => i)
  const alpha = channels.some(c => c.kind === 'transparency')
  return plainLayer({
    id: flatId,
    name: 'Flattened picture',
    kind: 'flat',
    box: { left: 0, top: 0, right: width, bottom: height },
    channelIds: alpha ? [...process, -1] : process,
  })
}
