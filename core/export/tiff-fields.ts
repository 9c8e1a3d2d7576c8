/** One entry of a TIFF directory: its number, type, how many values, and their bytes, little-endian. */
export interface Field {
  readonly tag: number
  readonly type: number
  readonly count: number
  readonly bytes: Uint8Array
}

/** 16-bit numbers. */
export function shorts(tag: number, values: readonly number[]): Field {
  const bytes = new Uint8Array(2 * values.length)
  const view = new DataView(bytes.buffer)
  for (const [i, value] of values.entries()) view.setUint16(2 * i, value, true)
  return { tag, type: 3, count: values.length, bytes }
}

/** 32-bit numbers. */
export function longs(tag: number, values: readonly number[]): Field {
  const bytes = new Uint8Array(4 * values.length)
  const view = new DataView(bytes.buffer)
  for (const [i, value] of values.entries()) view.setUint32(4 * i, value, true)
  return { tag, type: 4, count: values.length, bytes }
}

/** A positive number as a fraction, right to 1 in 10 million where it is at least 1. */
export function rational(tag: number, value: number): Field {
  const below = value < 400 ? 1e7 : 1e5
  const whole = Number.isInteger(value)
  const bytes = new Uint8Array(8)
  const view = new DataView(bytes.buffer)
  view.setUint32(0, whole ? value : Math.round(value * below), true)
  view.setUint32(4, whole ? 1 : below, true)
  return { tag, type: 5, count: 1, bytes }
}

/** Text, ended by a zero; further zeros in it part names. */
export function ascii(tag: number, text: string): Field {
  const bytes = new TextEncoder().encode(`${text}\0`)
  return { tag, type: 2, count: bytes.length, bytes }
}

export function undefinedBytes(tag: number, bytes: Uint8Array): Field {
  return { tag, type: 7, count: bytes.length, bytes }
}

/**
 * A directory with the values that do not fit into it, as bytes that lie at `at`, the only directory of its file.
 * Source: TIFF 6.0, section 2.
 */
export function packFields(fields: readonly Field[], at: number): Uint8Array {
  const sorted = [...fields].sort((a, b) => a.tag - b.tag)
  const head = 2 + 12 * sorted.length + 4
  const far = sorted.filter(({ bytes }) => bytes.length > 4)
  const size = far.reduce((sum, { bytes }) => sum + bytes.length + (bytes.length % 2), head)
  const out = new Uint8Array(size)
  const view = new DataView(out.buffer)
  view.setUint16(0, sorted.length, true)
  let next = head
  for (const [i, { tag, type, count, bytes }] of sorted.entries()) {
    const entry = 2 + 12 * i
    view.setUint16(entry, tag, true)
    view.setUint16(entry + 2, type, true)
    view.setUint32(entry + 4, count, true)
    if (bytes.length <= 4) out.set(bytes, entry + 8)
    else {
      view.setUint32(entry + 8, at + next, true)
      out.set(bytes, next)
      next += bytes.length + (bytes.length % 2)
    }
  }
  return out
}
