import { type GratingChannel, kappaScale, type MapPlane, spreadScale } from './map.ts'
import type { GratingMoment } from './moments.ts'

/** Side of a tile, pixels. */
export const tileSide = 64
const tilePixels = tileSide * tileSide

interface Block {
  readonly kappa: Int16Array
  readonly spread: Uint16Array
  readonly relief: Uint8Array
}

/** One grating channel while it is written; tiles come into being where a grating does. */
export class GratingTiles {
  readonly #blocks: Block[] = []
  readonly #index: Int32Array
  readonly #perRow: number

  constructor(width: number, height: number) {
    this.#perRow = Math.ceil(width / tileSide)
    this.#index = new Int32Array(this.#perRow * Math.ceil(height / tileSide)).fill(-1)
  }

  get isEmpty(): boolean {
    return this.#blocks.length === 0
  }

  /** Bytes that the tiles hold so far. */
  get bytes(): number {
    return this.#blocks.length * tilePixels * 12
  }

  /**
   * Stores a grating at a pixel, rounded to the planes' steps. Spread beyond 1.3 cycles/µm, which no colour survives,
   * is stored as that. `moment.weight` is the share, 0..1.
   */
  set(x: number, y: number, moment: GratingMoment): void {
    const share = evenly(Math.min(1, moment.weight) * 255, x, y)
    if (share === 0) return
    const tile = Math.floor(y / tileSide) * this.#perRow + Math.floor(x / tileSide)
    let number = this.#index[tile]!
    if (number < 0) {
      number = this.#blocks.length
      this.#index[tile] = number
      this.#blocks.push({
        kappa: new Int16Array(tilePixels * 2),
        spread: new Uint16Array(tilePixels * 2),
        relief: new Uint8Array(tilePixels * 4),
      })
    }
    const { kappa, spread, relief } = this.#blocks[number]!
    const pixel = (y % tileSide) * tileSide + (x % tileSide)
    kappa[pixel * 2] = Math.max(-32767, Math.min(32767, Math.round(moment.kx * kappaScale)))
    kappa[pixel * 2 + 1] = Math.max(-32767, Math.min(32767, Math.round(moment.ky * kappaScale)))
    spread[pixel * 2] = Math.min(65535, Math.round(Math.sqrt(moment.along) * spreadScale))
    spread[pixel * 2 + 1] = Math.min(65535, Math.round(Math.sqrt(moment.across) * spreadScale))
    relief[pixel * 4] = Math.max(0, Math.min(255, Math.round(moment.depth)))
    relief[pixel * 4 + 1] = share
    relief[pixel * 4 + 2] = moment.groove
  }

  /** The three planes under the channel's names; they share one tile index. The blocks are given up. */
  finish(channel: GratingChannel): readonly (readonly [string, MapPlane])[] {
    const count = this.#blocks.length
    const kappa = new Int16Array(count * tilePixels * 2)
    const spread = new Uint16Array(count * tilePixels * 2)
    const relief = new Uint8Array(count * tilePixels * 4)
    this.#blocks.forEach((block, i) => {
      kappa.set(block.kappa, i * tilePixels * 2)
      spread.set(block.spread, i * tilePixels * 2)
      relief.set(block.relief, i * tilePixels * 4)
    })
    this.#blocks.length = 0
    const tiled = { layout: 'tiles', tile: tileSide, index: this.#index } as const
    return [
      [channel.kappa, { ...tiled, components: 2, data: kappa }],
      [channel.spread, { ...tiled, components: 2, data: spread }],
      [channel.relief, { ...tiled, components: 4, data: relief }],
    ]
  }
}

/** Names of the planes of grating channel `number`, counted from 1. */
export function gratingChannel(number: number): GratingChannel {
  return {
    name: `grating ${number}`,
    kappa: `kappa${number}`,
    spread: `spread${number}`,
    relief: `relief${number}`,
  }
}

/**
 * Rounds to a whole number; a half goes up on one colour of a chessboard and down on the other, so that the mean over
 * an area stays and repeated means do not drift.
 */
export function evenly(value: number, x: number, y: number): number {
  const whole = Math.floor(value)
  const rest = value - whole
  if (rest === 0.5) return whole + ((x + y) & 1)
  return rest > 0.5 ? whole + 1 : whole
}
