import type { ReadCode } from '../../base/code-reader.ts'
import type { SymbolFrame } from './scan.ts'
import { darknessOf, type InkTile, tilePixel } from './tile.ts'

export type Modules = NonNullable<ReadCode['modules']>

/** A matrix code measured on its drawing. */
export interface DrawnMatrix {
  readonly frame: SymbolFrame
  readonly moduleMm: number
  /** Clear ground before, after, above and below it, mm, as far as it was looked for. */
  readonly clearMm: readonly [before: number, after: number, above: number, below: number]
}

/** Darkness of the drawing at a place in reading direction, mm from the symbol's corner; lightness where light is printed on dark. */
type Drawing = (u: number, v: number) => number

/** Parts of a module by which corners are moved to where the modules are seen best. */
const moves = [-0.375, -0.25, -0.125, 0, 0.125, 0.25, 0.375]
const growths = [-0.25, 0, 0.25]
/** Places of a module that are looked at, in parts of it. */
const spots = [
  [0.5, 0.5],
  [0.15, 0.15],
  [0.85, 0.15],
  [0.15, 0.85],
  [0.85, 0.85],
] as const

/** Where the modules are drawn, finer than the picture that they were found in, and the clear ground round them. */
export function drawnMatrix(
  tile: InkTile,
  rough: SymbolFrame,
  modules: Modules,
  quiet: number,
  reversed: boolean,
): DrawnMatrix {
  const { columns, rows } = modules
  const steps = [rough.lengthMm / columns, rough.heightMm / rows] as const
  const roughly = drawingOf(tile, rough, reversed)
  const u = bestSide(modules, roughly, steps, 'u')
  const v = bestSide(modules, roughly, steps, 'v')
  const { start, across, down } = rough
  const frame: SymbolFrame = {
    ...rough,
    start: [
      start[0] + across[0] * u.from + down[0] * v.from,
      start[1] + across[1] * u.from + down[1] * v.from,
    ],
    lengthMm: rough.lengthMm + u.more,
    heightMm: rough.heightMm + v.more,
  }
  const moduleMm = Math.min(frame.lengthMm / columns, frame.heightMm / rows)
  const drawing = drawingOf(tile, frame, reversed)
  return { frame, moduleMm, clearMm: clearRound(drawing, frame, modules, moduleMm, quiet) }
}

/** How far the first side lies off and how much longer the symbol is, mm, one way: the middle of all that fit best. */
function bestSide(
  { columns, rows, dark }: Modules,
  drawing: Drawing,
  steps: readonly [number, number],
  way: 'u' | 'v',
): { readonly from: number; readonly more: number } {
  const along = way === 'u' ? 0 : 1
  let best = Number.NEGATIVE_INFINITY
  let sum = { from: 0, more: 0, count: 0 }
  for (const growth of growths)
    for (const move of moves) {
      const [from, more] = [move * steps[along]!, growth * steps[along]!]
      const scale = 1 + growth / (way === 'u' ? columns : rows)
      let score = 0
      for (let row = 0; row < rows; row++)
        for (let column = 0; column < columns; column++)
          for (const [a, b] of spots) {
            const at = [(column + a) * steps[0], (row + b) * steps[1]]
            at[along] = from + at[along]! * scale
            const darkness = drawing(at[0]!, at[1]!)
            score += dark[row * columns + column] === 1 ? darkness : -darkness
          }
      if (score < best - 1e-9) continue
      if (score > best + 1e-9) sum = { from: 0, more: 0, count: 0 }
      best = Math.max(best, score)
      sum = { from: sum.from + from, more: sum.more + more, count: sum.count + 1 }
    }
  return { from: sum.from / sum.count, more: sum.more / sum.count }
}

/** Steps of a module in which clear ground is looked for. */
const fine = 8
/** The edge of the symbol itself is soft for so much of a module. */
const soft = 2

function clearRound(
  drawing: Drawing,
  { lengthMm, heightMm }: SymbolFrame,
  { columns, rows, dark }: Modules,
  moduleMm: number,
  quiet: number,
): DrawnMatrix['clearMm'] {
  const means = [0, 0]
  const counts = [0, 0]
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      const kind = dark[row * columns + column]!
      means[kind]! += drawing(((column + 0.5) * lengthMm) / columns, ((row + 0.5) * heightMm) / rows)
      counts[kind]!++
    }
  const [light, inked] = [means[0]! / Math.max(1, counts[0]!), means[1]! / Math.max(1, counts[1]!)]
  // Ground is what is nearer to the light modules, whichever of both has more ink.
  const isGround = (value: number) => Math.abs(value - light) < Math.abs(value - inked)
  const step = moduleMm / fine
  const most = (quiet + 1) * fine
  const clear = (side: number): number => {
    for (let k = soft; k <= most; k++) {
      const out = k * step
      const length = side < 2 ? heightMm : lengthMm
      // A step short of the corner: what lies there is told of on the side that it is nearer to.
      const corner = out - step
      const n = Math.ceil((length + 2 * corner) / step)
      for (let i = 0; i <= n; i++) {
        const s = -corner + ((length + 2 * corner) * i) / n
        const [u, v] =
          side === 0
            ? [-out, s]
            : side === 1
              ? [lengthMm + out, s]
              : side === 2
                ? [s, -out]
                : [s, heightMm + out]
        if (!isGround(drawing(u!, v!))) return (k - 1) * step
      }
    }
    return most * step
  }
  return [clear(0), clear(1), clear(2), clear(3)]
}

function drawingOf(tile: InkTile, { start, across, down }: SymbolFrame, reversed: boolean): Drawing {
  return (u, v) => {
    const pixel = tilePixel(
      tile,
      start[0] + across[0] * u + down[0] * v,
      start[1] + across[1] * u + down[1] * v,
    )
    if (pixel < 0) return 0
    return reversed ? 1 - darknessOf(tile, pixel) : darknessOf(tile, pixel)
  }
}
