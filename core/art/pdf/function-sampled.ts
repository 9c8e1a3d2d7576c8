/** A table of samples over a grid, read by straight lines between them. Source: ISO 32000-2, 7.10.2. */
export interface Sampled {
  readonly inputs: number
  readonly outputs: number
  readonly size: readonly number[]
  readonly domain: readonly number[]
  readonly encode: readonly number[]
  /** Results, `outputs` a node; the first input runs fastest. */
  readonly values: Float32Array
}

export interface SampledWords {
  readonly domain: readonly number[]
  readonly range: readonly number[]
  readonly size: readonly number[]
  readonly bits: number
  readonly encode: readonly number[] | undefined
  readonly decode: readonly number[] | undefined
  /** The samples' bytes, of which so many are needed. */
  readonly bytes: (length: number) => Uint8Array
}

export const mostSamples = 1 << 23
const mostInputs = 12

/** What a dictionary says, as a table; or what is wrong with it, to stand after "its function". */
export function samplesOf(words: SampledWords): Sampled | string {
  const { domain, range, size, bits } = words
  const inputs = domain.length / 2
  const outputs = Math.floor(range.length / 2)
  if (inputs > mostInputs) return `of type 0 has ${inputs} inputs, more than ${mostInputs}`
  if (size.length < inputs || size.slice(0, inputs).some(n => !Number.isInteger(n) || n < 1))
    return 'of type 0 does not say how many samples it has'
  if (![1, 2, 4, 8, 12, 16, 24, 32].includes(bits)) return `of type 0 has samples of ${bits} bits`
  const count = size.slice(0, inputs).reduce((product, n) => product * n, outputs)
  if (count > mostSamples) return `of type 0 has ${count} samples, more than ${mostSamples}`
  const length = Math.ceil((count * bits) / 8)
  const bytes = words.bytes(length)
  if (bytes.length < length) return `of type 0 has ${bytes.length} bytes of samples instead of ${length}`
  const usual = (decode: readonly number[] | undefined, other: readonly number[]) =>
    decode !== undefined && decode.length >= other.length ? decode : other
  const decode = usual(words.decode, range)
  return {
    inputs,
    outputs,
    size: size.slice(0, inputs),
    domain,
    encode: usual(
      words.encode,
      size.slice(0, inputs).flatMap(n => [0, n - 1]),
    ),
    values: decoded(bytes, count, bits, decode, outputs),
  }
}

function decoded(
  bytes: Uint8Array,
  count: number,
  bits: number,
  decode: readonly number[],
  outputs: number,
): Float32Array {
  const values = new Float32Array(count)
  const largest = 2 ** bits - 1
  for (let i = 0; i < count; i++) {
    const j = i % outputs
    const low = decode[2 * j]!
    values[i] = low + (sampleAt(bytes, i * bits, bits) / largest) * (decode[2 * j + 1]! - low)
  }
  return values
}

/** The unsigned number of `bits` bits (at most 32) that begins at a bit, the highest first; 0 behind the end. */
export function sampleAt(bytes: Uint8Array, bit: number, bits: number): number {
  let value = 0
  let left = bits
  let at = bit
  while (left > 0) {
    const room = 8 - (at & 7)
    const taken = Math.min(room, left)
    const part = ((bytes[Math.floor(at / 8)] ?? 0) >> (room - taken)) & ((1 << taken) - 1)
    value = value * 2 ** taken + part
    left -= taken
    at += taken
  }
  return value
}

/** @param input within the domain */
export function sampledAt(
  table: Sampled,
  input: ArrayLike<number>,
  out: Float64Array,
  at: number,
): Float64Array {
  const { inputs, outputs, size, domain, encode, values } = table
  for (let j = 0; j < outputs; j++) out[at + j] = 0
  const add = (dimension: number, node: number, stride: number, weight: number): void => {
    if (dimension === inputs) {
      for (let j = 0; j < outputs; j++) out[at + j]! += weight * values[node * outputs + j]!
      return
    }
    const n = size[dimension]!
    const low = domain[2 * dimension]!
    const span = domain[2 * dimension + 1]! - low
    const from = encode[2 * dimension]!
    const place =
      span === 0 ? from : from + ((input[dimension]! - low) * (encode[2 * dimension + 1]! - from)) / span
    const e = Math.min(n - 1, Math.max(0, place))
    const left = Math.min(Math.floor(e), Math.max(0, n - 2))
    const share = e - left
    if (share < 1) add(dimension + 1, node + left * stride, stride * n, weight * (1 - share))
    if (share > 0) add(dimension + 1, node + (left + 1) * stride, stride * n, weight * share)
  }
  add(0, 0, 1, 1)
  return out
}
