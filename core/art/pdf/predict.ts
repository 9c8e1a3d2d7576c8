/** How samples were foretold before they were packed (ISO 32000-2, 7.4.4.4). */
export interface Prediction {
  readonly predictor: number
  readonly colors: number
  readonly bits: number
  readonly columns: number
}

/** Undoes the prediction of rows of samples. Impossible numbers leave the bytes as they are. */
export function unpredict(bytes: Uint8Array, { predictor, colors, bits, columns }: Prediction): Uint8Array {
  const sane =
    colors >= 1 && colors <= 64 && [1, 2, 4, 8, 16].includes(bits) && columns >= 1 && columns <= 1e7
  if (!sane) return bytes
  const rowBytes = Math.ceil((colors * bits * columns) / 8)
  const back = Math.max(1, Math.ceil((colors * bits) / 8))
  return predictor === 2 ? fromLeft(bytes, rowBytes, colors, bits) : byFilters(bytes, rowBytes, back)
}

/** Each row begins with the number of its filter (ISO/IEC 15948, 9.2). */
function byFilters(bytes: Uint8Array, rowBytes: number, back: number): Uint8Array {
  const rows = Math.ceil(bytes.length / (rowBytes + 1))
  const out = new Uint8Array(rows * rowBytes)
  let size = 0
  for (let row = 0; row < rows; row++) {
    const from = row * (rowBytes + 1)
    const kind = bytes[from] ?? 0
    const to = row * rowBytes
    const count = Math.min(rowBytes, bytes.length - from - 1)
    for (let at = 0; at < count; at++) {
      const left = at < back ? 0 : (out[to + at - back] ?? 0)
      const up = row === 0 ? 0 : (out[to + at - rowBytes] ?? 0)
      const corner = row === 0 || at < back ? 0 : (out[to + at - rowBytes - back] ?? 0)
      out[to + at] = (bytes[from + 1 + at] ?? 0) + foretold(kind, left, up, corner)
    }
    size += Math.max(0, count)
  }
  return out.subarray(0, size)
}

function foretold(kind: number, left: number, up: number, corner: number): number {
  if (kind === 1) return left
  if (kind === 2) return up
  if (kind === 3) return (left + up) >> 1
  if (kind !== 4) return 0
  const guess = left + up - corner
  const byLeft = Math.abs(guess - left)
  const byUp = Math.abs(guess - up)
  const byCorner = Math.abs(guess - corner)
  return byLeft <= byUp && byLeft <= byCorner ? left : byUp <= byCorner ? up : corner
}

/** Each sample is the difference to the one left of it (TIFF 6.0, section 14). */
function fromLeft(bytes: Uint8Array, rowBytes: number, colors: number, bits: number): Uint8Array {
  const out = bytes.slice()
  for (let row = 0; row < out.length; row += rowBytes) {
    const end = Math.min(out.length, row + rowBytes)
    if (bits === 8)
      for (let at = row + colors; at < end; at++) out[at] = (out[at] ?? 0) + (out[at - colors] ?? 0)
    else if (bits === 16)
      for (let at = row + 2 * colors; at + 1 < end; at += 2) {
        const sum = word(out, at) + word(out, at - 2 * colors)
        out[at] = sum >> 8
        out[at + 1] = sum
      }
    else smallFromLeft(out, row, end, colors, bits)
  }
  return out
}

const word = (bytes: Uint8Array, at: number): number => ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0)

function smallFromLeft(out: Uint8Array, row: number, end: number, colors: number, bits: number): void {
  const mask = (1 << bits) - 1
  const before = new Array<number>(colors).fill(0)
  const count = Math.floor(((end - row) * 8) / bits)
  for (let sample = 0; sample < count; sample++) {
    const at = row + ((sample * bits) >> 3)
    const shift = 8 - bits - ((sample * bits) & 7)
    const value = (((out[at] ?? 0) >> shift) + (before[sample % colors] ?? 0)) & mask
    out[at] = ((out[at] ?? 0) & ~(mask << shift)) | (value << shift)
    before[sample % colors] = value
  }
}
