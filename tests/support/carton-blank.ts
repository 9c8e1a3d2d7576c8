import type { EffectSpec } from '../../core/effects/effect.ts'
import { type PsdLayer, writePsd } from './psd-write.ts'

/** A whole carton blank at 300 ppi: about ten million pixels. */
export const blankSize = { widthMm: 300, heightMm: 250, width: 3543, height: 2953, ppi: 300 } as const

/** Its holographic layers and how each is made; the rings lie on a quarter of it. */
export const blankEffects: Readonly<Record<string, EffectSpec>> = {
  'Holo lens rings': { kind: 'concentric', parameters: { pitchNm: 1050, grooveDepthNm: 80 } },
  'Holo Milky Way': { kind: 'plain', parameters: { pitchNm: 1000, azimuthDeg: 80, sharePercent: 90 } },
  'Holo lines': { kind: 'plain', parameters: { pitchNm: 1100, azimuthDeg: 90 } },
  'Holo star rays': { kind: 'radial', parameters: { pitchNm: 900, grooveDepthNm: 80 } },
}

/** Coverage 0..1 at a place, mm from the lower left corner, y up. */
type Shape = (xMm: number, yMm: number) => number

/** A soft edge of one pixel around what lies within `distance` < 0, mm. */
const within = (distance: number): number => Math.min(1, Math.max(0, 0.5 - (distance * blankSize.ppi) / 25.4))

const shapes: Readonly<Record<string, Shape>> = {
  'Holo lens rings': (x, y) => within(Math.hypot(x - 110, y - 130) - 77.3),
  'Holo Milky Way': (x, y) => (x > 200 ? within(Math.abs(y - 60 - 0.3 * (x - 200)) - 12) : 0),
  'Holo lines': (x, y) => (y > 225 ? within(Math.abs((x % 10) - 5) - 0.4) : 0),
  'Holo star rays': (x, y) => within(Math.hypot(x - 250, y - 190) - 28),
}

/** The blank as a layered file: foil with four areas, a sky of ink, a plate of white. */
export function cartonBlank(): Uint8Array {
  const { width, height, ppi } = blankSize
  const sky: Shape = (x, y) => (Math.hypot(x - 110, y - 130) > 60 ? 0.4 + (0.3 * y) / 250 : 0)
  return writePsd({
    width,
    height,
    mode: 'CMYK',
    depth: 8,
    ppi,
    layers: [...Object.entries(shapes), ['Sky', sky] as const].map(([name, shape]) => layer(name, shape)),
    composite: [0, 1, 2, 3].map(() => new Uint8Array(width * height).fill(255)),
    channels: [
      {
        name: 'White',
        kind: 'spot',
        ink: { space: 'CMYK', values: [0, 0, 0, 0] },
        solidity: 0.6,
        data: painted((_x, y) => (y < 40 ? 1 : 0)).map(amount => 255 - amount),
      },
    ],
  })
}

function layer(name: string, shape: Shape): PsdLayer {
  const { width, height } = blankSize
  const plane = (value: number) => () => new Uint8Array(width * height).fill(value)
  return {
    name,
    box: { left: 0, top: 0, right: width, bottom: height },
    planes: { [-1]: () => painted(shape), 0: plane(90), 1: plane(160), 2: plane(255), 3: plane(250) },
  }
}

function painted(shape: Shape): Uint8Array {
  const { width, height, ppi } = blankSize
  const step = 25.4 / ppi
  const out = new Uint8Array(width * height)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      out[y * width + x] = Math.round(255 * shape((x + 0.5) * step, (height - y - 0.5) * step))
  return out
}
