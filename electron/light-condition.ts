import { promisify } from 'node:util'
import { constants, deflateRaw, inflateRawSync } from 'node:zlib'
import { conditionNodes, type PrintCondition } from '../core/color/print-condition.ts'

/**
 * The same condition, whose table of 7 MB is packed in the background, to about a quarter. It is read while tables are
 * baked, and rarely after: unpacked it stays only while somebody uses it. What comes back is the same, number by number.
 * @returns the condition, and when it is packed
 */
export function lightCondition({ name, rendering, solids, factors }: PrintCondition): {
  readonly condition: PrintCondition
  readonly packed: Promise<void>
} {
  let whole: Uint16Array | null = factors
  let bytes = new Uint8Array(0)
  let used = new WeakRef(factors)
  const { length } = factors
  // Closures name `whole` alone: one that named `factors` would hold it for good.
  const pack = async (all: Uint16Array) => {
    bytes = await deflate(differences(all), { level: constants.Z_BEST_SPEED, chunkSize: 2 ** 20 })
    whole = null
  }
  const unpacked = (): Uint16Array => {
    const found = summed(inflateRawSync(bytes), length)
    used = new WeakRef(found)
    return found
  }
  const condition: PrintCondition = {
    name,
    rendering,
    solids,
    get factors() {
      return whole ?? used.deref() ?? unpacked()
    },
  }
  return { condition, packed: pack(factors) }
}

const deflate = promisify(deflateRaw) as (
  bytes: Uint8Array,
  options: { readonly level: number; readonly chunkSize: number },
) => Promise<Uint8Array<ArrayBuffer>>

/** From a node to the next, and to the next row of nodes. */
const next = 3
const row = 3 * conditionNodes

/** What each number lies beside the plane through its three neighbours, small of either sign; low bytes, then high ones. */
function differences(factors: Uint16Array): Uint8Array {
  const n = factors.length
  const out = new Uint8Array(2 * n)
  for (let i = 0; i < n; i++) {
    const off = ((factors[i]! - expected(factors, i)) << 16) >> 16
    const code = (off << 1) ^ (off >> 15)
    out[i] = code
    out[n + i] = code >> 8
  }
  return out
}

function summed(codes: Uint8Array, n: number): Uint16Array {
  const out = new Uint16Array(n)
  for (let i = 0; i < n; i++) {
    const code = codes[i]! | (codes[n + i]! << 8)
    out[i] = expected(out, i) + ((code >>> 1) ^ -(code & 1))
  }
  return out
}

/** By the numbers before it. */
const expected = (factors: Uint16Array, i: number): number =>
  i < row + next ? 0 : factors[i - next]! + factors[i - row]! - factors[i - row - next]!
