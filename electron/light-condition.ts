import { promisify } from 'node:util'
import { constants, deflateRaw, inflateRawSync } from 'node:zlib'
import { conditionNodes, type PrintCondition } from '../core/color/print-condition.ts'

/** All of a condition but its table. */
export type ConditionHead = Omit<PrintCondition, 'factors'>

/**
 * The same condition, whose table of 7 MB is packed in the background, to about a quarter. It is read while tables are
 * baked, and rarely after: unpacked it stays only while somebody uses it. What comes back is the same, number by number.
 * @returns the condition, and when it is packed
 */
export function lightCondition({ factors, ...head }: PrintCondition): {
  readonly condition: PrintCondition
  readonly packed: Promise<void>
} {
  let whole: Uint16Array | null = factors
  let light: PrintCondition | null = null
  const used = new WeakRef(factors)
  // Closures name `whole` alone: one that named `factors` would hold it for good.
  const pack = async (all: Uint16Array) => {
    light = packedCondition(head, await packTable(all), used)
    whole = null
  }
  const condition: PrintCondition = {
    ...head,
    get factors() {
      return whole ?? light!.factors
    },
  }
  return { condition, packed: pack(factors) }
}

/** A condition whose table is there packed. @param used the table, while somebody still has it */
export function packedCondition(
  head: ConditionHead,
  bytes: Uint8Array,
  used: WeakRef<Uint16Array> | null = null,
): PrintCondition {
  return {
    ...head,
    get factors() {
      const held = used?.deref()
      if (held) return held
      const found = summed(inflateRawSync(bytes), 3 * conditionNodes ** 4)
      used = new WeakRef(found)
      return found
    },
  }
}

/** The table as {@link packedCondition} reads it. */
export const packTable = (factors: Uint16Array): Promise<Uint8Array<ArrayBuffer>> =>
  deflate(differences(factors), { level: constants.Z_BEST_SPEED, chunkSize: 2 ** 20 })

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
