import type { PixelBox } from './coverage.ts'
import type { MaskNode } from './nodes.ts'
import type { Surface } from './surface.ts'

/** Values of a soft mask (ISO 32000-2, 11.5), inside a box and one for everything around it. */
export class MaskValues {
  constructor(
    readonly box: PixelBox,
    readonly values: Float32Array,
    readonly outside: number,
  ) {}

  /** Multiplies pixels start..end of a row by it. `left`: the pixel of the page that the row begins with. */
  multiply(row: Float32Array, y: number, left: number, start: number, end: number): void {
    const { box, values, outside } = this
    const inside = y >= box.top && y < box.bottom
    const from = inside ? Math.min(end, Math.max(start, box.left - left)) : end
    const to = inside ? Math.max(from, Math.min(end, box.right - left)) : end
    const at = (y - box.top) * (box.right - box.left) + left - box.left
    if (outside !== 1) {
      for (let x = start; x < from; x++) row[x]! *= outside
      for (let x = to; x < end; x++) row[x]! *= outside
    }
    for (let x = from; x < to; x++) row[x]! *= values[at + x]!
  }
}

/**
 * Values of a mask whose marks were painted. From alpha: the opacity of its group (11.5.2). From luminosity: its group
 * is composed with a backdrop of one colour, and the lightness of the result is the value (11.5.3); outside the group
 * that is the backdrop alone.
 */
export function maskValues(mask: MaskNode, painted: Surface): MaskValues {
  const transfer = (value: number) => {
    const clipped = Math.min(1, Math.max(0, value))
    return mask.transfer === null ? clipped : Math.min(1, Math.max(0, mask.transfer(clipped)))
  }
  const ink = painted.plane(0)
  const plain = (alpha: number, amount: number) =>
    mask.from === 'alpha' ? alpha : 1 - amount - (1 - alpha) * (1 - mask.backdrop)
  const values = new Float32Array(painted.alpha.length)
  // Neighbours are mostly alike, and a transfer function may be slow.
  let [lastAlpha, lastAmount, last] = [-1, -1, 0]
  for (let i = 0; i < values.length; i++) {
    const alpha = painted.alpha[i]!
    const amount = ink?.[i] ?? 0
    if (alpha !== lastAlpha || amount !== lastAmount) {
      last = transfer(plain(alpha, amount))
      lastAlpha = alpha
      lastAmount = amount
    }
    values[i] = last
  }
  return new MaskValues(painted.box, values, transfer(plain(0, 0)))
}
