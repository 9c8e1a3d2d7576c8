import type { MaterialMap } from '../../material/map.ts'
import type { DrawnSymbol } from './drawn-symbol.ts'
import type { Readable } from './surface.ts'
import { type InkTile, tilePixel } from './tile.ts'

/** What the bars of a symbol are printed in. */
export interface BarInks {
  /** Names and coverages, 0..1, of the inks that make a bar, the strongest first; those of the ground are not counted. */
  readonly inks: readonly { readonly name: string; readonly coverage: number }[]
  /** Reflectance at 660 nm of bars over that of the spaces beside them; 1 where the spaces are dark. */
  readonly ratio: number
}

/** Less of an ink than this is dirt, or a rounding of the art. */
const counted = 0.1

/** Inks of the middles of the bars against the middles of the spaces, along the middle line. */
export function barInks(tile: InkTile, surface: Readable, symbol: DrawnSymbol, map: MaterialMap): BarInks {
  const { frame, bars, moduleMm } = symbol
  const { start, across, down, heightMm } = frame
  const spots = tile.spots === null ? 0 : map.spots.length
  const names = ['cyan', 'magenta', 'yellow', 'black', ...map.spots.slice(0, spots).map(({ name }) => name)]
  const sums = { bar: new Float64Array(names.length), space: new Float64Array(names.length) }
  const light = { bar: 0, space: 0 }
  const counts = { bar: 0, space: 0 }
  let at = 0
  bars.runs.forEach((run, i) => {
    const kind = i % 2 === 0 ? 'bar' : 'space'
    const u = (at + run / 2) * moduleMm
    at += run
    // Single modules have their edges too near.
    if (run < 2) return
    const x = start[0] + across[0] * u + (down[0] * heightMm) / 2
    const y = start[1] + across[1] * u + (down[1] * heightMm) / 2
    const pixel = tilePixel(tile, x, y)
    if (pixel < 0) return
    counts[kind]++
    light[kind] += surface.at(x, y)
    for (let c = 0; c < 4; c++) sums[kind][c]! += tile.inks[4 * pixel + c]! / 255
    for (let s = 0; s < spots; s++) sums[kind][4 + s]! += tile.spots![spots * pixel + s]! / 255
  })
  const inks = names
    .map((name, i) => ({
      name,
      coverage: sums.bar[i]! / Math.max(1, counts.bar) - sums.space[i]! / Math.max(1, counts.space),
    }))
    .filter(({ coverage }) => coverage > counted)
    .sort((a, b) => b.coverage - a.coverage)
  const bar = light.bar / Math.max(1, counts.bar)
  const space = light.space / Math.max(1, counts.space)
  return { inks, ratio: space > 0 ? Math.min(1, bar / space) : 1 }
}
