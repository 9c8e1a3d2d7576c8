import bwip from 'bwip-js/node'
import type { BarSymbol } from '../../core/checks/codes/drawn-symbol.ts'
import type { InkTile } from '../../core/checks/codes/tile.ts'

/** Inks of bars and of the ground between them, C M Y K 0..1. */
export interface TileInks {
  readonly bar: readonly [number, number, number, number]
  readonly ground: readonly [number, number, number, number]
}
export const blackOnNothing: TileInks = { bar: [0, 0, 0, 1], ground: [0, 0, 0, 0] }

/** Encoders of the generator by our kinds. */
const encoders = {
  'EAN-13': 'ean13',
  'EAN-8': 'ean8',
  'UPC-A': 'upca',
  'UPC-E': 'upce',
  ITF: 'itf14',
  'Code 128': 'code128',
} as const
export type GeneratedKind = keyof typeof encoders

/** Widths of bars and spaces as the generator makes them, modules. */
export function generatedRuns(kind: GeneratedKind, text: string): readonly number[] {
  const [made] = bwip.raw({ bcid: encoders[kind], text }) as unknown as [{ sbs: readonly number[] }]
  return made.sbs
}

/** A symbol drawn by the generator at a place of a panel, with clear ground of 16 modules round it. */
export function codeTile(
  kind: GeneratedKind,
  text: string,
  options: {
    readonly moduleMm: number
    readonly pixelsPerMm?: number
    readonly heightMm?: number
    /** Lower left corner of the symbol's first bar. */
    readonly leftMm?: number
    readonly bottomMm?: number
    readonly inks?: TileInks
  },
): { readonly tile: InkTile; readonly symbol: BarSymbol } {
  const { moduleMm, pixelsPerMm = 1270 / 25.4, heightMm = 10, leftMm = 10, bottomMm = 5 } = options
  const { bar, ground } = options.inks ?? blackOnNothing
  const runs = generatedRuns(kind, text)
  const modules = runs.reduce((sum, run) => sum + run, 0)
  const marginMm = 16 * moduleMm
  const lengthMm = modules * moduleMm
  const tileLeft = leftMm - marginMm
  const tileTop = bottomMm + heightMm + 1
  const width = Math.ceil((lengthMm + 2 * marginMm) * pixelsPerMm)
  const height = Math.ceil((heightMm + 2) * pixelsPerMm)
  const edges = [0]
  for (const run of runs) edges.push(edges.at(-1)! + run * moduleMm)
  const dark = (mm: number) => {
    if (mm < 0 || mm >= lengthMm) return 0
    return edges.findIndex(edge => edge > mm) % 2
  }
  const inks = new Uint8Array(4 * width * height)
  for (let column = 0; column < width; column++) {
    // The part of a pixel that the bar has: edges fall where they fall.
    let part = 0
    for (let i = 0; i < 8; i++) part += dark(tileLeft + (column + (i + 0.5) / 8) / pixelsPerMm - leftMm) / 8
    for (let row = 0; row < height; row++) {
      const y = tileTop - (row + 0.5) / pixelsPerMm
      const inside = y > bottomMm && y < bottomMm + heightMm ? part : 0
      for (let c = 0; c < 4; c++)
        inks[4 * (row * width + column) + c] = Math.round(
          255 * (inside * bar[c]! + (1 - inside) * ground[c]!),
        )
    }
  }
  return {
    tile: {
      width,
      height,
      pixelsPerMm,
      leftMm: tileLeft,
      topMm: tileTop,
      inks,
      spots: null,
      from: 'pixels',
      ppi: pixelsPerMm * 25.4,
    },
    symbol: {
      kind,
      text,
      reversed: false,
      frame: {
        start: [leftMm, bottomMm + heightMm],
        across: [1, 0],
        down: [0, -1],
        lengthMm,
        heightMm,
      },
    },
  }
}
