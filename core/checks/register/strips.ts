import type { PointMm } from '../../effects/outline.ts'
import { type Affine, type Group, type Motions, movedPoint, onCut, turnOf } from './groups.ts'
import { type Halo, haloRule, stripWidth } from './halo.ts'
import type { SharedEdges } from './shared-edges.ts'
import type { Pair } from './tolerance.ts'

/** What shows of one kind along the edges that a pair shares. */
export interface Strips {
  readonly halo: Halo
  readonly count: number
  /** Four corners of each, eight numbers, mm on the panel as it is cut, y up. */
  readonly corners: Float64Array
  /** Mm. */
  readonly widths: Float64Array
  /** All of them together; where edges meet in a corner, both count: never less than what shows. */
  readonly areaMm2: number
  readonly widestMm: number
}

/** Narrower than this nothing is drawn, mm. */
const leastMm = 0.01

const asItIs: Affine = { xx: 1, xy: 0, yx: 0, yy: 1, x0: 0, y0: 0 }

/**
 * What shows along edges when groups lie as they do now, quick enough for a hand that moves them. `sliversOf` has exact
 * outlines of the same.
 * @param edges of the pair as drawn
 * @param about the middle of the art, mm
 */
export function stripsOf(
  edges: SharedEdges,
  pair: Pair,
  motions: Motions,
  about: PointMm,
): Readonly<Record<Halo, Strips>> {
  const lies = onCut(motions, about)
  const lieOf = (group: Group): Affine => (group === 'die' ? asItIs : lies[group])
  const [own, other] = [lieOf(pair[0]), lieOf(pair[1])]
  const rule = haloRule(pair)
  const turn = turnOf(own)
  const [c, s] = [Math.cos(turn), Math.sin(turn)]
  const out = { foil: new Gathered('foil'), white: new Gathered('white') }
  for (let i = 0; i < edges.count; i++) {
    const gap = edges.gap[i]!
    const at: PointMm = [edges.x[i]!, edges.y[i]!]
    const [x, y] = movedPoint(own, at)
    const nx = c * edges.nx[i]! - s * edges.ny[i]!
    const ny = s * edges.nx[i]! + c * edges.ny[i]!
    const [ex, ey] = movedPoint(other, [at[0] + gap * edges.nx[i]!, at[1] + gap * edges.ny[i]!])
    const apart = (ex - x) * nx + (ey - y) * ny
    const opposed = edges.opposed[i] === 1
    const foil = stripWidth(rule, 'foil', opposed, gap, apart)
    const white = foil > 0 ? 0 : stripWidth(rule, 'white', opposed, gap, apart)
    if (foil + white < leastMm) continue
    out[foil > 0 ? 'foil' : 'white'].add(x, y, nx, ny, edges.length[i]! / 2, apart)
  }
  return { foil: out.foil.strips, white: out.white.strips }
}

class Gathered {
  readonly #corners: number[] = []
  readonly #widths: number[] = []
  #area = 0
  #widest = 0

  constructor(readonly halo: Halo) {}

  /** @param apart outward, below 0 inward */
  add(x: number, y: number, nx: number, ny: number, half: number, apart: number): void {
    const [tx, ty] = [-ny * half, nx * half]
    const [wx, wy] = [nx * apart, ny * apart]
    this.#corners.push(x - tx, y - ty, x + tx, y + ty, x + tx + wx, y + ty + wy, x - tx + wx, y - ty + wy)
    const width = Math.abs(apart)
    this.#widths.push(width)
    this.#area += 2 * half * width
    this.#widest = Math.max(this.#widest, width)
  }

  get strips(): Strips {
    return {
      halo: this.halo,
      count: this.#widths.length,
      corners: Float64Array.from(this.#corners),
      widths: Float64Array.from(this.#widths),
      areaMm2: this.#area,
      widestMm: this.#widest,
    }
  }
}
