import type { Box } from '../art/layer.ts'
import { type GratingChannel, kappaScale, type MapPlane, spreadScale } from './map.ts'
import type { GratingMoment } from './moments.ts'

/** Side of a tile, pixels. */
export const tileSide = 64
const tileShift = Math.log2(tileSide)
const tilePixels = tileSide * tileSide

interface Block {
  readonly kappa: Int16Array
  readonly spread: Uint16Array
  readonly relief: Uint8Array
}

/** Squares of a picture, row by row, as boxes of its pixels. */
export class TileGrid {
  readonly perRow: number
  readonly rows: number

  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.perRow = Math.ceil(width / tileSide)
    this.rows = Math.ceil(height / tileSide)
  }

  get count(): number {
    return this.perRow * this.rows
  }

  /** Pixels of `run` tiles side by side from tile `number` on. */
  box(number: number, run = 1): Box {
    const left = (number % this.perRow) * tileSide
    const top = Math.floor(number / this.perRow) * tileSide
    return {
      left,
      top,
      right: Math.min(this.width, left + run * tileSide),
      bottom: Math.min(this.height, top + tileSide),
    }
  }

  /** Numbers of all tiles. */
  all(): readonly number[] {
    return Array.from({ length: this.count }, (_, i) => i)
  }

  /** Rows of neighbours among tiles in rising order: first tile and how many. */
  runs(tiles: readonly number[]): readonly (readonly [first: number, run: number])[] {
    const out: [number, number][] = []
    for (const tile of tiles) {
      const last = out.at(-1)
      if (last && last[0] + last[1] === tile && tile % this.perRow !== 0) last[1]++
      else out.push([tile, 1])
    }
    return out
  }
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
    const tile = (y >> tileShift) * this.#perRow + (x >> tileShift)
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
    const pixel = (y & (tileSide - 1)) * tileSide + (x & (tileSide - 1))
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
