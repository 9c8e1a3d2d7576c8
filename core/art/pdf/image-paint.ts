import { checkCancelled } from '../../base/task.ts'
import type { Samples } from './image-samples.ts'
import type { ColorSpace, Reading } from './reading.ts'

/** Samples, and how each of some amounts follows from one of their channels. */
export interface Painted {
  readonly samples: Samples
  readonly parts: readonly Part[]
}

export interface Part {
  readonly channel: number
  /** Amount 0..1 of each code. */
  readonly table: Float32Array
}

/**
 * Samples as amounts of the inks of a colour space. Where each ink follows from one component alone the samples stay
 * as they are; other colours (RGB, Lab) become inks of 8 bits here.
 * @param decode limits that codes are spread over, in pairs
 */
export function paintSamples(
  reading: Reading,
  samples: Samples,
  space: ColorSpace,
  decode: readonly number[],
): Painted {
  const { largest } = samples
  const amountOf = (component: number, code: number): number => {
    const low = decode[2 * component]!
    return low + (code / largest) * (decode[2 * component + 1]! - low)
  }
  const n = space.inks.length
  if (space.components === 1) {
    const tints = space.manyTints(Float32Array.from({ length: largest + 1 }, (_, code) => amountOf(0, code)))
    return {
      samples,
      parts: space.inks.map((_, k) => ({
        channel: 0,
        table: Float32Array.from({ length: 256 }, (_, code) => tints[Math.min(code, largest) * n + k]!),
      })),
    }
  }
  if (space.direct !== null)
    return {
      samples,
      parts: space.direct.map(channel => ({
        channel,
        table: Float32Array.from({ length: 256 }, (_, code) =>
          Math.min(1, Math.max(0, amountOf(channel, Math.min(code, largest)))),
        ),
      })),
    }
  const limits = space.components * 2
  const values = Float32Array.from({ length: limits * 128 }, (_, i) =>
    amountOf(Math.floor(i / 256), Math.min(largest, i % 256)),
  )
  return {
    samples: {
      ...samples,
      channels: n,
      bits: 8,
      largest: 255,
      data: toInks(reading, samples, space, values),
    },
    parts: Array.from({ length: n }, (_, channel) => ({ channel, table: evenly })),
  }
}

const evenly = Float32Array.from({ length: 256 }, (_, code) => code / 255)

/** Pixels that are turned at once. */
const block = 65536
/** From so many pixels on, colours that come again are looked up. */
const many = 1 << 21

/** @param values what the codes of each component stand for, 256 each */
function toInks(reading: Reading, samples: Samples, space: ColorSpace, values: Float32Array): Uint8Array {
  const { data, channels } = samples
  const n = space.inks.length
  // Opacity may follow the colours.
  const used = space.components
  const count = Math.floor(data.length / channels)
  const out = new Uint8Array(count * n)
  const known = channels === 3 && n <= 4 && count >= many ? new KnownColors(n) : null
  const fresh = new Uint32Array(block)
  for (let first = 0; first < count; first += block) {
    checkCancelled(reading.task)
    const end = Math.min(count, first + block)
    let asked = 0
    for (let i = first; i < end; i++) if (known === null || known.isNew(data, 3 * i)) fresh[asked++] = i
    const colors = new Float32Array(asked * used)
    for (let j = 0; j < asked; j++)
      for (let c = 0; c < used; c++) colors[j * used + c] = values[256 * c + data[fresh[j]! * channels + c]!]!
    const tints = asked === 0 ? new Float32Array(0) : space.manyTints(colors)
    if (known === null)
      for (let i = 0; i < tints.length; i++) out[first * n + i] = Math.round(tints[i]! * 255)
    else {
      for (let j = 0; j < asked; j++) known.keep(data, 3 * fresh[j]!, tints, j * n)
      for (let i = first; i < end; i++) known.write(data, 3 * i, out, i * n)
    }
  }
  return out
}

/** Inks of colours of three bytes that were met: 66 MB while one large image is read. */
class KnownColors {
  readonly #inks: Uint8Array
  readonly #met = new Uint8Array(1 << 21)
  readonly #n: number

  constructor(n: number) {
    this.#n = n
    this.#inks = new Uint8Array(n << 24)
  }

  isNew(data: Uint8Array, at: number): boolean {
    const key = keyOf(data, at)
    const bit = 1 << (key & 7)
    if ((this.#met[key >> 3]! & bit) !== 0) return false
    this.#met[key >> 3]! |= bit
    return true
  }

  keep(data: Uint8Array, at: number, tints: Float32Array, from: number): void {
    const to = keyOf(data, at) * this.#n
    for (let k = 0; k < this.#n; k++) this.#inks[to + k] = Math.round(tints[from + k]! * 255)
  }

  write(data: Uint8Array, at: number, out: Uint8Array, to: number): void {
    const from = keyOf(data, at) * this.#n
    for (let k = 0; k < this.#n; k++) out[to + k] = this.#inks[from + k]!
  }
}

const keyOf = (data: Uint8Array, at: number): number =>
  (data[at]! << 16) | (data[at + 1]! << 8) | data[at + 2]!
