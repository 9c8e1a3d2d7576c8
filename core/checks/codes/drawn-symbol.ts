import { alongBars } from './along-bars.ts'
import { type BarKind, type ExpectedBars, expectedBars, widthsOf } from './bars.ts'
import { clearBeside } from './clear-beside.ts'
import { edgesOf, elementsOf } from './profile.ts'
import { lineHeights, type SymbolFrame, scanAcross } from './scan.ts'
import type { Readable } from './surface.ts'
import { darknessOf, type InkTile, tilePixel } from './tile.ts'

/** A symbol of bars where it was found. */
export interface BarSymbol {
  readonly kind: BarKind
  readonly text: string
  readonly frame: SymbolFrame
  /** Light bars on dark ground. */
  readonly reversed: boolean
}

/** A symbol measured on its drawing. */
export interface DrawnSymbol extends BarSymbol {
  readonly bars: ExpectedBars
  readonly moduleMm: number
  /** Clear ground before the first bar and after the last, mm, as far as it was looked for. */
  readonly clearMm: readonly [before: number, after: number]
}

/** Modules beside a symbol that are looked at for clear ground. */
const lookedModules = 15

/**
 * Measures a symbol on the art itself: its first and last bar, its bars, its module, the clear ground beside it. Null
 * where no bars of that kind are drawn there.
 */
export function drawnSymbol(tile: InkTile, symbol: BarSymbol): DrawnSymbol | null {
  const { kind, text, reversed } = symbol
  const surface = drawing(tile, reversed)
  // As fine as the tile is: the module is not known yet.
  const fine = 2 / tile.pixelsPerMm
  // Twice: the whole bar says its way better than the rows that the reader named.
  const frame = alongBars(surface, alongBars(surface, symbol.frame, fine), fine)
  const rough = frame.lengthMm / 80
  const around = scanAcross(surface, frame, 0.5, fine, 2 * rough, 2 * rough)
  const elements = elementsOf(around.profile)
  const edges = edgesOf(around.profile, elements)
  const first = elements[0]?.kind === 'bar' ? 1 : 0
  const last = edges.length - 1 - (elements.at(-1)?.kind === 'bar' ? 1 : 0)
  const bars = expectedBars(kind, text, around.profile)
  const widths = widthsOf(around.profile)
  if (bars === null || widths === null || widths.length !== bars.runs.length) return null
  const begins = edges[first]! * around.stepMm - around.fromMm
  const lengthMm = (edges[last]! - edges[first]!) * around.stepMm
  const moduleMm = lengthMm / bars.modules
  const { start, across } = frame
  const exact: SymbolFrame = {
    ...frame,
    start: [start[0] + across[0] * begins, start[1] + across[1] * begins],
    lengthMm,
  }
  const look = lookedModules * moduleMm
  const clear = lineHeights.map(height => {
    const line = scanAcross(surface, exact, height, moduleMm, look, look)
    return clearBeside(line.profile, line.stepMm, look, lengthMm)
  })
  const least = (side: 0 | 1) => Math.min(...clear.map(one => one[side]))
  return { ...symbol, frame: exact, bars, moduleMm, clearMm: [least(0), least(1)] }
}

/** The art as paper would show it, 1 = no ink; turned over where light bars are printed round. */
function drawing(tile: InkTile, reversed: boolean): Readable {
  const light = new Float32Array(tile.width * tile.height)
  for (let i = 0; i < light.length; i++) light[i] = reversed ? darknessOf(tile, i) : 1 - darknessOf(tile, i)
  const beside = reversed ? 1 : 0
  return {
    at: (x, y) => {
      const pixel = tilePixel(tile, x, y)
      return pixel < 0 ? beside : light[pixel]!
    },
  }
}
