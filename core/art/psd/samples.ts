/** The file is big-endian; typed arrays are as the machine is. */
const swap = new Uint8Array(new Uint16Array([1]).buffer)[0] === 1

export type Samples = Uint8Array | Uint16Array | Float32Array

/** Bytes of one row of samples as the file holds it. 1-bit rows end on a whole byte. */
export function rowBytes(width: number, depth: number): number {
  return depth === 1 ? Math.ceil(width / 8) : width * (depth / 8)
}

/**
 * Turns rows of file bytes into samples, in place where the sizes agree.
 * @param predicted  rows are stored as differences (compression 3)
 */
export function toSamples(
  bytes: Uint8Array<ArrayBuffer>,
  width: number,
  height: number,
  depth: number,
  predicted: boolean,
): Samples {
  if (depth === 1) return widen(bytes, width, height)
  if (depth === 8) return predicted ? sumRows(bytes, width) : bytes
  if (depth === 16) {
    const words = new Uint16Array(bytes.buffer, bytes.byteOffset, bytes.length / 2)
    if (swap) for (let i = 0; i < words.length; i++) words[i] = (words[i]! >> 8) | (words[i]! << 8)
    return predicted ? sumRows(words, width) : words
  }
  if (predicted) gather(sumRows(bytes, width * 4), width)
  else if (swap) {
    const words = new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4)
    for (let i = 0; i < words.length; i++) {
      const v = words[i]!
      words[i] = (v >>> 24) | ((v >>> 8) & 0xff00) | ((v & 0xff00) << 8) | (v << 24)
    }
  }
  return new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4)
}

/** Undoes differences along each row; the typed array wraps round as the format wants. */
function sumRows<T extends Uint8Array | Uint16Array>(data: T, width: number): T {
  for (let row = 0; row < data.length; row += width)
    for (let i = row + 1; i < row + width; i++) data[i] = data[i]! + data[i - 1]!
  return data
}

/** Rows of 32-bit samples stored as four byte planes, highest first → samples of this machine. */
function gather(bytes: Uint8Array, width: number): void {
  const row = new Uint8Array(width * 4)
  for (let at = 0; at < bytes.length; at += row.length) {
    row.set(bytes.subarray(at, at + row.length))
    for (let i = 0; i < width; i++)
      for (let b = 0; b < 4; b++) bytes[at + i * 4 + (swap ? 3 - b : b)] = row[b * width + i]!
  }
}

/** 1 bit a pixel, highest bit first, 1 = black → 0 black, 255 white. */
function widen(bits: Uint8Array, width: number, height: number): Uint8Array {
  const out = new Uint8Array(width * height)
  const row = Math.ceil(width / 8)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      out[y * width + x] = (bits[y * row + (x >> 3)]! >> (7 - (x & 7))) & 1 ? 0 : 255
  return out
}
