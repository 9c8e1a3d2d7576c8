import type { Art, ArtFile, Layer, Plane } from './layer.ts'
import { plainLayer } from './plain-layer.ts'

/** Layers of a panel that has no art yet. */
export const blankHolography = 'blank-holography'
export const blankWhite = 'blank-white'

/** Document pixels on a millimetre, and the most on a side. */
const perMm = 4
const longest = 4096

export interface BlankSize {
  readonly widthMm: number
  readonly heightMm: number
  /** Part of the height, from the bottom, that white covers, 0..1. */
  readonly whitePart: number
}

/**
 * Art for a panel that has none yet: holography all over and white from below, nothing printed. It goes the way of
 * any art, so that effects and white are chosen as they will be once the art is there.
 */
export function blankArt({ widthMm, heightMm, whitePart }: BlankSize): ArtFile {
  const scale = Math.min(perMm, longest / Math.max(widthMm, heightMm))
  const width = Math.max(1, Math.round(widthMm * scale))
  const height = Math.max(1, Math.round(heightMm * scale))
  const whole = { left: 0, top: 0, right: width, bottom: height }
  const top = Math.round(height * (1 - whitePart))
  const layers = [
    layer(blankHolography, 'Holography', whole),
    ...(top < height ? [layer(blankWhite, 'White', { ...whole, top })] : []),
  ]
  const art: Art = {
    name: 'No art yet',
    format: 'PSD',
    width,
    height,
    resolutionPpi: scale * 25.4,
    colorMode: 'CMYK',
    depth: 8,
    layers,
    channels: [],
    paths: [],
    profile: null,
    palette: null,
    hasComposite: false,
    findings: [],
  }
  const flat = (box: Layer['box'], value: number): Plane => ({
    box,
    data: new Uint8Array((box.right - box.left) * (box.bottom - box.top)).fill(value),
  })
  return {
    art,
    async layerPlane(id, channel) {
      const box = layers.find(one => one.id === id)?.box
      // Solid black as a stand-in, opaque throughout.
      return box === undefined ? null : flat(box, channel === 3 ? 0 : 255)
    },
    maskPlane: async () => null,
    vectorMaskPlane: async () => null,
    documentPlane: async () => flat(whole, 255),
  }
}

const layer = (id: string, name: string, box: Layer['box']): Layer =>
  plainLayer({ id, name, kind: 'pixel', box, channelIds: [0, 1, 2, 3, -1] })
