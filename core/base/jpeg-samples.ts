/** One component of a JPEG as its decoder has it: squares of 8 × 8 samples one after another. */
export interface JpegComponent {
  readonly output: Int16Array
  /** Samples of it for one pixel across and down, 0..1. */
  readonly scaleX: number
  readonly scaleY: number
  readonly blocksPerLine: number
}

/**
 * All components pixel by pixel. A component of half as many samples is read on the straight line between the two that
 * are nearest, which lie at the middles of their pixels, as the usual decoder does; of others, the sample that a pixel
 * falls into.
 */
export function jpegSamples(
  width: number,
  height: number,
  components: readonly JpegComponent[],
): Uint8ClampedArray<ArrayBuffer> {
  const n = components.length
  const out = new Uint8ClampedArray(width * height * n)
  for (const [c, component] of components.entries()) spread(component, width, height, out, c, n)
  return out
}

function spread(
  { output, scaleX, scaleY, blocksPerLine }: JpegComponent,
  width: number,
  height: number,
  out: Uint8ClampedArray,
  first: number,
  by: number,
): void {
  const columns = Math.max(1, Math.ceil(width * scaleX))
  const rows = Math.max(1, Math.ceil(height * scaleY))
  const line = (blocksPerLine + 1) << 3
  /** Four times the samples of a row, of which `far` is a quarter. */
  const mixed = new Int32Array(columns)
  const mix = (near: number, far: number): void => {
    const nearAt = line * (near & ~7) + ((near & 7) << 3)
    const farAt = line * (far & ~7) + ((far & 7) << 3)
    for (let x = 0; x < columns; x++) {
      const at = ((x & ~7) << 3) + (x & 7)
      mixed[x] = 3 * output[nearAt + at]! + output[farAt + at]!
    }
  }
  for (let y = 0; y < height; y++) {
    const near = Math.min(rows - 1, Math.floor(y * scaleY))
    const other = scaleY === 0.5 ? near + ((y & 1) === 0 ? -1 : 1) : near
    mix(near, Math.min(rows - 1, Math.max(0, other)))
    let at = y * width * by + first
    for (let x = 0; x < width; x++, at += by) {
      const here = Math.min(columns - 1, Math.floor(x * scaleX))
      const beside =
        scaleX === 0.5 ? Math.min(columns - 1, Math.max(0, here + ((x & 1) === 0 ? -1 : 1))) : here
      out[at] = (3 * mixed[here]! + mixed[beside]! + ((x & 1) === 0 ? 8 : 7)) >> 4
    }
  }
}

/** YCbCr to RGB, in place; what follows the first three of `n` samples stays. Source: ITU-T T.871, section 7. */
export function yccToRgb(data: Uint8ClampedArray, n: 3 | 4): void {
  for (let i = 0; i < data.length; i += n) {
    const y = data[i]!
    const cb = data[i + 1]! - 128
    const cr = data[i + 2]! - 128
    data[i] = y + 1.402 * cr
    data[i + 1] = y - 0.344136 * cb - 0.714136 * cr
    data[i + 2] = y + 1.772 * cb
    // Of four the first three are what is left of the light (YCCK).
    if (n === 4) for (let k = 0; k < 3; k++) data[i + k] = 255 - data[i + k]!
  }
}
