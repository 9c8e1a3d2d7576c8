import type { Art, ArtFile, Box, Channel, ColorMode, Layer, Plane } from '../../core/art/layer.ts'
import { processCount } from '../../core/art/layer.ts'

/** A layer painted by a function: process samples as a designer says them (CMYK ink 0..1, else 0..1 coded) and alpha. */
export interface PaintedLayer extends Partial<Omit<Layer, 'name' | 'box'>> {
  readonly name: string
  readonly box?: Box
  /** Colour and alpha at a document pixel; without it a layer has no pixels. */
  readonly paint?: (x: number, y: number) => readonly number[]
}

export interface PaintedChannel {
  readonly name: string
  readonly kind?: Channel['kind']
  readonly ink?: Channel['ink']
  /** How much of it is at a document pixel, 0..1. */
  readonly paint: (x: number, y: number) => number
}

/** Art made in memory, for tests. Layers bottom to top; 8 bits; ids are the names unless given. */
export function paintedFile(what: {
  readonly width: number
  readonly height: number
  readonly mode?: ColorMode
  readonly layers?: readonly PaintedLayer[]
  readonly channels?: readonly PaintedChannel[]
  readonly profile?: Art['profile']
}): ArtFile {
  const mode = what.mode ?? 'CMYK'
  const count = processCount(mode)
  const whole: Box = { left: 0, top: 0, right: what.width, bottom: what.height }
  const painted = what.layers ?? []
  const layers = painted.map((layer): Layer => {
    const { paint, ...rest } = layer
    return {
      id: layer.name,
      kind: 'pixel',
      parent: null,
      visible: true,
      opacity: 1,
      fillOpacity: 1,
      blendMode: layer.kind === 'group' ? 'passThrough' : 'normal',
      clipped: false,
      box: paint ? whole : { left: 0, top: 0, right: 0, bottom: 0 },
      channelIds: paint ? [-1, ...Array.from({ length: count }, (_, i) => i)] : [],
      mask: null,
      vectorMask: null,
      text: null,
      fill: null,
      effects: [],
      adjustment: null,
      findings: [],
      ...rest,
    }
  })
  const channels = (what.channels ?? []).map(
    (channel, i): Channel => ({
      id: channel.name,
      name: channel.name,
      kind: channel.kind ?? 'spot',
      ink: channel.ink ?? null,
      opacity: null,
      plane: count + i,
    }),
  )
  const art: Art = {
    name: 'painted.psd',
    format: 'PSD',
    width: what.width,
    height: what.height,
    resolutionPpi: 300,
    colorMode: mode,
    depth: 8,
    layers,
    channels,
    paths: [],
    profile: what.profile ?? null,
    palette: null,
    hasComposite: false,
    findings: [],
  }
  const plane = (box: Box, sample: (x: number, y: number) => number): Plane => {
    const data = new Uint8Array((box.right - box.left) * (box.bottom - box.top))
    let i = 0
    for (let y = box.top; y < box.bottom; y++)
      for (let x = box.left; x < box.right; x++) data[i++] = Math.round(sample(x, y) * 255)
    return { box, data }
  }
  return {
    art,
    layerPlane: async (id, channel) => {
      const at = layers.findIndex(layer => layer.id === id)
      const paint = painted[at]?.paint
      if (!paint) return null
      return plane(layers[at]!.box, (x, y) => {
        const value = paint(x, y)[channel < 0 ? count : channel]!
        return channel >= 0 && mode === 'CMYK' ? 1 - value : value
      })
    },
    maskPlane: async () => null,
    vectorMaskPlane: async () => null,
    documentPlane: async index => {
      const channel = what.channels?.[index - count]
      if (!channel) throw new RangeError(`no plane ${index}`)
      return plane(whole, (x, y) =>
        (channel.kind ?? 'spot') === 'spot' ? 1 - channel.paint(x, y) : channel.paint(x, y),
      )
    },
  }
}
