import type { GreyPicture } from '../../base/code-reader.ts'
import type { BoxMm } from '../finding.ts'
import { pixelBox } from '../spot-area.ts'

/** How far from an edge bars are followed, mm: the longest retail code. */
const reachMm = 75
/** Lines along the edge that are looked at, and how many of them in a row have to show the same bars, mm. */
const [stepMm, leastHeightMm] = [0.5, 4]
/** Bars and spaces that are left: fewer are a pattern, or too little of a code to be one. */
const leastRuns = 16
/** Narrowest and widest of them: a code has up to 4 modules in one, which edges and pixels change a little. */
const [narrowestMm, widestMm, ratioMost] = [0.2, 4, 6]
/** Stripes of one width are none: the widest over the narrowest. */
const ratioLeast = 1.7
/** Light ground after the last bar, in narrowest bars. */
const quietLeast = 5
/** Least difference of bars and spaces, of 255. */
const contrastLeast = 80
/** How far an edge of a bar may wander from line to line, mm. */
const wanderMm = 0.15

const sides = ['left', 'right', 'bottom', 'top'] as const

/**
 * What is left of codes that an edge of the art has cut through their bars, so that none can be read: rows of bars and
 * spaces of several widths that begin at the edge and end in light ground. Found by its looks alone; no number stands
 * behind it.
 */
export function cutBars(
  picture: GreyPicture,
  { widthMm, heightMm }: { readonly widthMm: number; readonly heightMm: number },
): readonly BoxMm[] {
  const { width, height } = picture
  return sides.flatMap(side => {
    const across = side === 'left' || side === 'right'
    const perMm = across ? width / widthMm : height / heightMm
    const perMmAlong = across ? height / heightMm : width / widthMm
    const depth = Math.min(across ? width : height, Math.ceil(reachMm * perMm))
    const line = new Uint8Array(depth)
    const found: BoxMm[] = []
    let same: Bars[] = []
    const close = () => {
      if (same.length * stepMm >= leastHeightMm) found.push(boxOf(same))
      same = []
    }
    const boxOf = (rows: readonly Bars[]): BoxMm => {
      const [from, to] = [rows[0]!.at, rows.at(-1)!.at + 1]
      const ends = Math.ceil(rows[0]!.edges.at(-1)!)
      const box = {
        left: { left: 0, right: ends, top: from, bottom: to },
        right: { left: width - ends, right: width, top: from, bottom: to },
        top: { left: from, right: to, top: 0, bottom: ends },
        bottom: { left: from, right: to, top: height - ends, bottom: height },
      }[side]
      return pixelBox({ width, height, widthMm, heightMm }, box)
    }
    const most = across ? height : width
    for (let mm = stepMm / 2; mm * perMmAlong < most; mm += stepMm) {
      const at = Math.floor(mm * perMmAlong)
      for (let d = 0; d < depth; d++) {
        const [x, y] = {
          left: [d, at],
          right: [width - 1 - d, at],
          top: [at, d],
          bottom: [at, height - 1 - d],
        }[side] as [number, number]
        line[d] = picture.data[y * width + x]!
      }
      const edges = barEdges(line, perMm)
      if (edges === null) {
        close()
        continue
      }
      const before = same.at(-1)?.edges
      const goesOn =
        before === undefined ||
        (before.length === edges.length &&
          before.every((edge, i) => Math.abs(edge - edges[i]!) <= wanderMm * perMm))
      if (!goesOn) close()
      same.push({ at, edges })
    }
    close()
    return found
  })
}

/** Bars of one line: where it runs along the edge, and its own edges from there inward, pixels. */
interface Bars {
  readonly at: number
  readonly edges: readonly number[]
}

/** Edges of bars from the edge of the art inward, up to the last bar's; null where they are no code's. */
function barEdges(line: Uint8Array, perMm: number): readonly number[] | null {
  let [least, most] = [255, 0]
  // Of as much as a few bars take: what lies further in may be a picture.
  for (const value of line.subarray(0, Math.ceil(10 * perMm))) {
    least = Math.min(least, value)
    most = Math.max(most, value)
  }
  if (most - least < contrastLeast) return null
  const threshold = (least + most) / 2
  const edges: number[] = []
  let narrowest = Number.POSITIVE_INFINITY
  let widest = 0
  for (let d = 1; d <= line.length; d++) {
    const light = line[d - 1]! >= threshold
    const last = edges.at(-1)
    const run = d - (last ?? 0)
    // The first run is what the edge left of it.
    const ended = last !== undefined && light && run > quietLeast * narrowest && run > widestMm * perMm * 0.4
    if (ended && edges.length > leastRuns) return widest >= ratioLeast * narrowest ? edges : null
    if (d === line.length || line[d]! >= threshold === light) {
      if (run > widestMm * perMm) return null
      continue
    }
    if (last !== undefined) {
      narrowest = Math.min(narrowest, run)
      widest = Math.max(widest, run)
      if (run < narrowestMm * perMm || widest > ratioMost * narrowest) return null
    }
    edges.push(d)
  }
  return null
}
