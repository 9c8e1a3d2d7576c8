import type { ReadCode } from '../../core/base/code-reader.ts'
import { type DrawnSymbol, drawnSymbol } from '../../core/checks/codes/drawn-symbol.ts'
import { checkDigit } from '../../core/checks/codes/retail.ts'
import type { InkTile } from '../../core/checks/codes/tile.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { codeTile, type GeneratedKind, type TileInks } from './code-tile.ts'
import { paintMap } from './paint-map.ts'

/** A code over foil, board or white, made by chance. */
export interface CodeCase {
  readonly says: string
  readonly kind: ReadCode['kind']
  readonly text: string
  readonly tile: InkTile
  readonly symbol: DrawnSymbol
  readonly map: MaterialMap
  readonly rulingPerMm: number
  /** Pixels a millimetre of the picture that the decoder gets: 7 to 10 a module, as verifiers of pictures have them; from memory. */
  readonly picturePerMm: number
}

/** Even numbers in 0..1 from a seed. Source: the 32-bit generator mulberry32, public domain. */
export function chance(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}

const inks: readonly (readonly [string, TileInks['bar']])[] = [
  ['black', [0, 0, 0, 1]],
  ['black', [0, 0, 0, 1]],
  ['black', [0, 0, 0, 1]],
  ['cyan', [1, 0, 0, 0]],
  ['dark blue', [1, 0.8, 0, 0.2]],
  ['green', [0.8, 0, 1, 0]],
  ['grey', [0, 0, 0, 0.5]],
  ['light cyan', [0.4, 0, 0, 0]],
  ['magenta', [0, 1, 0, 0]],
  ['orange', [0, 0.5, 1, 0]],
]
const grounds: readonly TileInks['ground'][] = [
  [0, 0, 0, 0],
  [0, 0, 0, 0],
  [0, 0, 0.5, 0],
  [0.3, 0, 0, 0],
  [0, 0, 0, 0.25],
]

/** Whites of every case: all have the same plates, so that tables are made once. The last is mottled. */
export const casePlates = [
  ...[0.2, 0.4, 0.6, 0.8, 0.95].map(opacity => ({ opacity, hits: 1 })),
  { opacity: 0.5, hits: 1, mottle: 0.16 },
]
const solids = 5

function plateUnder(under: string, next: () => number): number {
  switch (under) {
    case 'white':
      return Math.floor(next() * solids)
    case 'screen':
      return solids - 1
    case 'mottled':
      return solids
    default:
      return -1
  }
}

/** One case; every choice comes from `next`. */
export function codeCase(next: () => number): CodeCase {
  const pick = <T>(all: readonly T[]): T => all[Math.floor(next() * all.length)]!
  const between = (least: number, most: number) => least + (most - least) * next()
  const kind = pick<GeneratedKind>(['EAN-13', 'EAN-13', 'EAN-8', 'UPC-A', 'ITF', 'Code 128'])
  const text = numberOf(kind, next)
  const moduleMm = between(0.2, 0.5)
  const [inkName, bar] = pick(inks)
  const ground = pick(grounds)
  const { tile, symbol } = codeTile(kind, text, {
    moduleMm,
    heightMm: 1.5,
    leftMm: 16 * moduleMm + 0.5,
    inks: { bar: bar.map((v, i) => Math.max(v, ground[i]!)) as unknown as TileInks['bar'], ground },
  })
  const drawn = drawnSymbol(tile, symbol)!
  const under = pick(['board', 'foil', 'white', 'white', 'white', 'screen', 'screen', 'mottled'] as const)
  const plate = plateUnder(under, next)
  const cover = under === 'screen' ? between(0.1, 1) : 1
  // Some whites end inside the symbol or its margins.
  const ends = next() < 0.15 ? between(0.02, 0.3) : -1
  const plan = {
    size: 200,
    sideMm: Math.ceil(tile.width / tile.pixelsPerMm) + 2,
    gratings: 0,
    spots: [],
    varnish: false,
  }
  const map = paintMap({ ...plan, whites: casePlates }, x => ({
    metal: under === 'board' ? 0 : 1,
    whites: casePlates.map((_, i) => (i !== plate || (x + 1) / 2 < ends ? 0 : cover)),
  }))
  return {
    says: `${kind} ${moduleMm.toFixed(2)} ${inkName} ${ground} ${under} ${casePlates[plate]?.opacity} ${cover.toFixed(2)} ends ${ends.toFixed(2)}`,
    kind,
    text,
    tile,
    symbol: drawn,
    map,
    rulingPerMm: between(5, 10),
    picturePerMm: between(7, 10) / moduleMm,
  }
}

function numberOf(kind: GeneratedKind, next: () => number): string {
  const digits = (count: number) => Array.from({ length: count }, () => Math.floor(next() * 10)).join('')
  const whole = (without: string) => `${without}${checkDigit(without)}`
  switch (kind) {
    case 'EAN-13':
      return whole(`952${digits(9)}`)
    case 'EAN-8':
      return whole(`952${digits(4)}`)
    case 'UPC-A':
    case 'UPC-E':
      return whole(`0${digits(10)}`)
    case 'ITF':
      return whole(`1952${digits(9)}`)
    case 'Code 128':
      return `HOS-${digits(4)}`
  }
}
