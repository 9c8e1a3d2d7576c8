import type { Matrix } from '../ink/mark.ts'
import { inverse, times } from '../ink/matrix.ts'
import type { Painted, Part } from './image-paint.ts'
import type { Samples } from './image-samples.ts'

/** One picture on the unit square: its own size in samples, and what of it is there. */
export interface Laid {
  readonly painted: Painted
  /** Rows that the whole picture has. */
  readonly height: number
  /** Between the middles of samples in a straight line, where they are larger than the squares that are asked for. */
  readonly smooth: boolean
}

/** Amounts of each part to `out`, and the share of a square's rows that are there to `shape`. */
export type Sampler = (
  x: number,
  y: number,
  step: number,
  count: number,
  out: readonly Float32Array[],
  shape: Float32Array,
) => void

/** Page mm to samples, down from the top row; null where the image has no area. */
function toSamples(matrix: Matrix, width: number, height: number): Matrix | null {
  const back = inverse(matrix)
  return back === null ? null : times(back, [width, 0, 0, -height, 0, height])
}

/** @param weights how much each sample counts, 0..255; null: all alike */
export function sampler(laid: Laid, matrix: Matrix, weights: Uint8Array | null): Sampler {
  const { samples } = laid.painted
  const there = toSamples(matrix, samples.width, laid.height)
  if (there === null || samples.rows === 0)
    return (_x, _y, _step, count, out, shape) => {
      for (const plane of out) plane.fill(0, 0, count)
      shape.fill(0, 0, count)
    }
  const read = readerOf(samples, weights)
  const [a, b, c, d] = there
  const straight = Math.abs(b) + Math.abs(c) < 1e-9 * (Math.abs(a) + Math.abs(d))
  const turned = Math.abs(a) + Math.abs(d) < 1e-9 * (Math.abs(b) + Math.abs(c))
  const byArea = straight
    ? rowSampler(laid, weights, there)
    : turned
      ? areaSampler(laid, read, there)
      : placeSampler(laid, read, there)
  if (!laid.smooth) return byArea
  const between = smoothSampler(laid, there)
  return (x, y, step, ...rest) =>
    (Math.max(Math.abs(a) + Math.abs(c), Math.abs(b) + Math.abs(d)) * step < 1 ? between : byArea)(
      x,
      y,
      step,
      ...rest,
    )
}

interface Reader {
  /** Writes the amounts of a sample to place `at` of each of `out`. */
  one(out: readonly Float32Array[], at: number, parts: readonly Part[], row: number, column: number): void
  /** Adds the amounts of a sample, times a weight and how much of it is painted, to `sums`; returns the weight that it had. */
  add(sums: Float64Array, parts: readonly Part[], row: number, column: number, weight: number): number
}

function readerOf(samples: Samples, weights: Uint8Array | null): Reader {
  const { width, channels, bits, data } = samples
  const rowBytes = bits === 1 ? Math.ceil(width / 8) : width * channels
  return {
    one: (out, place, parts, row, column) => {
      if (bits === 1) {
        const code = (data[row * rowBytes + (column >> 3)]! >> (7 - (column & 7))) & 1
        for (let k = 0; k < parts.length; k++) out[k]![place] = parts[k]!.table[code]!
      } else {
        const at = row * rowBytes + column * channels
        for (let k = 0; k < parts.length; k++) {
          const part = parts[k]!
          out[k]![place] = part.table[data[at + part.channel]!]!
        }
      }
    },
    add: (sums, parts, row, column, weight) => {
      const own = weights === null ? weight : weight * (weights[row * width + column]! + tiny)
      if (bits === 1) {
        const code = (data[row * rowBytes + (column >> 3)]! >> (7 - (column & 7))) & 1
        for (let k = 0; k < parts.length; k++) sums[k]! += own * parts[k]!.table[code]!
      } else {
        const at = row * rowBytes + column * channels
        for (let k = 0; k < parts.length; k++) {
          const part = parts[k]!
          sums[k]! += own * part.table[data[at + part.channel]!]!
        }
      }
      return own
    },
  }
}

/** What is hidden counts for nothing, unless all of a square is. */
const tiny = 1e-6

/**
 * The image stands upright: samples of a row of squares are summed column by column first, then along the row. Most
 * pictures of a page are asked for like this, and all of them again and again.
 */
function rowSampler(laid: Laid, weights: Uint8Array | null, [a, , , d, e, f]: Matrix): Sampler {
  const { samples, parts } = laid.painted
  const { width, rows } = samples
  const spansAlong = spansKept(width)
  const sums = parts.map(() => new Float64Array(width))
  const counts = new Float64Array(width)
  return (x, y, step, count, out, shape) => {
    if (count === 0) return
    const spans = spansAlong(a * x + e, a * step, count)
    const middle = d * y + f
    const half = Math.abs(d * step) / 2
    const vertical = spanOf(middle - half, middle + half, laid.height)
    const [one, other] = [spans[0]!, spans[count - 1]!]
    const [from, to] = [Math.min(one.first, other.first), Math.max(one.last, other.last) + 1]
    for (const sum of sums) sum.fill(0, from, to)
    counts.fill(0, from, to)
    let there = 0
    for (let row = vertical.first; row <= vertical.last && row < rows; row++) {
      const weight = shareOf(vertical, row)
      there += weight
      addRow(samples, parts, weights, row, from, to, weight, sums, counts)
    }
    // Rows that a picture cut short lacks are not painted.
    shape.fill(there / (vertical.high - vertical.low), 0, count)
    for (let i = 0; i < count; i++) {
      const { first, last, low, high } = spans[i]!
      if (first === last) {
        const total = counts[first]!
        for (let k = 0; k < sums.length; k++) out[k]![i] = total > 0 ? sums[k]![first]! / total : 0
        continue
      }
      const [left, right] = [first + 1 - low, high - last]
      let total = left * counts[first]! + right * counts[last]!
      for (let column = first + 1; column < last; column++) total += counts[column]!
      for (let k = 0; k < sums.length; k++) {
        const sum = sums[k]!
        let all = left * sum[first]! + right * sum[last]!
        for (let column = first + 1; column < last; column++) all += sum[column]!
        out[k]![i] = total > 0 ? all / total : 0
      }
    }
  }
}

/** Adds a row of samples, times a weight and how much of each is painted, to the sums of its columns. */
function addRow(
  { width, channels, bits, data }: Samples,
  parts: readonly Part[],
  weights: Uint8Array | null,
  row: number,
  from: number,
  to: number,
  weight: number,
  sums: readonly Float64Array[],
  counts: Float64Array,
): void {
  if (weights === null) for (let x = from; x < to; x++) counts[x]! += weight
  else for (let x = from, at = row * width + from; x < to; x++) counts[x]! += weight * (weights[at++]! + tiny)
  for (let k = 0; k < parts.length; k++) {
    const { table, channel } = parts[k]!
    const sum = sums[k]!
    const start = bits === 1 ? row * Math.ceil(width / 8) : row * width * channels + channel
    for (let x = from; x < to; x++) {
      const code = bits === 1 ? (data[start + (x >> 3)]! >> (7 - (x & 7))) & 1 : data[start + x * channels]!
      const own = weights === null ? weight : weight * (weights[row * width + x]! + tiny)
      sum[x]! += own * table[code]!
    }
  }
}

/** The image lies on its side. */
function areaSampler(laid: Laid, read: Reader, [, b, c, , e, f]: Matrix): Sampler {
  const { samples, parts } = laid.painted
  const { width, rows } = samples
  const sums = new Float64Array(parts.length)
  const spansAlong = spansKept(laid.height)
  return (x, y, step, count, out, shape) => {
    const moving = spansAlong(b * x + f, b * step, count)
    const across = c * y + e
    const half = Math.abs(c * step) / 2
    const horizontal = spanOf(across - half, across + half, width)
    for (let i = 0; i < count; i++) {
      const vertical = moving[i]!
      // Most squares of a coarse image lie within one sample.
      if (vertical.first === vertical.last && horizontal.first === horizontal.last && vertical.first < rows) {
        read.one(out, i, parts, vertical.first, horizontal.first)
        shape[i] = 1
        continue
      }
      sums.fill(0)
      let total = 0
      let asked = 0
      let there = 0
      for (let row = vertical.first; row <= vertical.last; row++) {
        const weight = shareOf(vertical, row)
        asked += weight
        if (row >= rows) continue
        there += weight
        for (let column = horizontal.first; column <= horizontal.last; column++)
          total += read.add(sums, parts, row, column, weight * shareOf(horizontal, column))
      }
      for (let k = 0; k < parts.length; k++) out[k]![i] = total > 0 ? sums[k]! / total : 0
      shape[i] = asked > 0 ? there / asked : 0
    }
  }
}

/** Rows of a page ask for the same stretches again and again. */
function spansKept(size: number): (first: number, step: number, count: number) => readonly Span[] {
  let kept: { readonly first: number; readonly step: number; readonly spans: Span[] } | null = null
  return (first, step, count) => {
    if (kept === null || kept.first !== first || kept.step !== step || kept.spans.length < count) {
      const half = Math.abs(step) / 2
      kept = {
        first,
        step,
        spans: Array.from({ length: count }, (_, i) =>
          spanOf(first + i * step - half, first + i * step + half, size),
        ),
      }
    }
    return kept.spans
  }
}

interface Span {
  readonly low: number
  readonly high: number
  readonly first: number
  readonly last: number
}

/** The samples that a stretch meets; one that lies outside meets the nearest. */
function spanOf(low: number, high: number, size: number): Span {
  const from = Math.min(size, Math.max(0, low))
  const to = Math.min(size, Math.max(0, high))
  if (to - from < 1e-9) {
    const only = Math.min(size - 1, Math.max(0, Math.floor((low + high) / 2)))
    return { low: only, high: only + 1, first: only, last: only }
  }
  return {
    low: from,
    high: to,
    first: Math.min(size - 1, Math.floor(from)),
    last: Math.max(0, Math.ceil(to) - 1),
  }
}

const shareOf = ({ low, high }: Span, at: number): number => Math.min(high, at + 1) - Math.max(low, at)

/** Turned or sheared: some places of each square. */
function placeSampler(laid: Laid, read: Reader, [a, b, c, d, e, f]: Matrix): Sampler {
  const { samples, parts } = laid.painted
  const { width, rows } = samples
  const sums = new Float64Array(parts.length)
  const inside = (place: number, size: number) => Math.min(size - 1, Math.max(0, Math.floor(place)))
  return (x, y, step, count, out, shape) => {
    const wide = (Math.abs(a) + Math.abs(c)) * step
    const high = (Math.abs(b) + Math.abs(d)) * step
    const n = Math.min(16, Math.max(4, Math.ceil(Math.max(wide, high))))
    for (let i = 0; i < count; i++) {
      const [px, py] = [a * (x + i * step) + c * y + e, b * (x + i * step) + d * y + f]
      sums.fill(0)
      let total = 0
      let there = 0
      const add = (qx: number, qy: number): void => {
        const row = inside(qy, laid.height)
        if (row >= rows) return
        there++
        total += read.add(sums, parts, row, inside(qx, width), 1)
      }
      const alone =
        Math.floor(px - wide / 2) === Math.floor(px + wide / 2) &&
        Math.floor(py - high / 2) === Math.floor(py + high / 2)
      if (alone) add(px, py)
      else
        for (let v = 0; v < n; v++)
          for (let u = 0; u < n; u++) {
            const [dx, dy] = [((u + 0.5) / n - 0.5) * step, ((v + 0.5) / n - 0.5) * step]
            add(px + a * dx + c * dy, py + b * dx + d * dy)
          }
      for (let k = 0; k < parts.length; k++) out[k]![i] = total > 0 ? sums[k]! / total : 0
      shape[i] = there / (alone ? 1 : n * n)
    }
  }
}

/** In straight lines between the middles of samples, at the middle of each square. */
function smoothSampler(laid: Laid, [a, b, c, d, e, f]: Matrix): Sampler {
  const { samples, parts } = laid.painted
  const { width, rows } = samples
  const read = readerOf(samples, null)
  const sums = new Float64Array(parts.length)
  const around = (place: number, size: number) => {
    const at = Math.min(size - 1, Math.max(0, place - 0.5))
    const left = Math.floor(at)
    return { left, right: Math.min(size - 1, left + 1), share: at - left }
  }
  return (x, y, step, count, out, shape) => {
    for (let i = 0; i < count; i++) {
      const h = around(a * (x + i * step) + c * y + e, width)
      const v = around(b * (x + i * step) + d * y + f, rows)
      sums.fill(0)
      read.add(sums, parts, v.left, h.left, (1 - h.share) * (1 - v.share))
      read.add(sums, parts, v.left, h.right, h.share * (1 - v.share))
      read.add(sums, parts, v.right, h.left, (1 - h.share) * v.share)
      read.add(sums, parts, v.right, h.right, h.share * v.share)
      for (let k = 0; k < parts.length; k++) out[k]![i] = sums[k]!
      shape[i] = 1
    }
  }
}
