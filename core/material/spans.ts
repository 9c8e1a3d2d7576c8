/** The fine pixels under each coarse one: `count` from `start`, weights summing to 1. */
export interface Spans {
  readonly size: number
  readonly start: Int32Array
  readonly count: Int32Array
  /** `most` weights a span. */
  readonly weights: Float64Array
  readonly most: number
}

/** How `from` samples fall into `to` equal parts, by area. */
export function spans(from: number, to: number): Spans {
  const step = from / to
  const most = Math.ceil(step) + 1
  const start = new Int32Array(to)
  const count = new Int32Array(to)
  const weights = new Float64Array(to * most)
  for (let i = 0; i < to; i++) {
    const begin = (i * from) / to
    const end = ((i + 1) * from) / to
    const first = Math.min(from - 1, Math.floor(begin))
    const last = Math.max(first + 1, Math.min(from, Math.ceil(end)))
    start[i] = first
    count[i] = last - first
    for (let j = first; j < last; j++)
      weights[i * most + j - first] = (Math.min(end, j + 1) - Math.max(begin, j)) / step
  }
  return { size: to, start, count, weights, most }
}
