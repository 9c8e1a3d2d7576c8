/** Pixels of a coverage, 0..255, row by row. */
export interface CoveragePlane {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

/** Called for each piece of the edge: its ends in pixels, middles of pixels at whole numbers, y down. */
export type EdgePiece = (x0: number, y0: number, x1: number, y1: number) => void

/**
 * The edge of a coverage as straight pieces: marching squares over the middles of pixels at half coverage. The plane's own
 * border is no edge. Exact for straight edges along rows, columns and diagonals, because a pixel's coverage says where the
 * edge crosses it; elsewhere within some hundredths of a pixel.
 */
export function edgePieces({ width, height, data }: CoveragePlane, piece: EdgePiece): void {
  for (let y = 0; y + 1 < height; y++) {
    let at = y * width
    for (let x = 0; x + 1 < width; x++, at++) {
      const a = data[at]!
      const b = data[at + 1]!
      const c = data[at + width + 1]!
      const d = data[at + width]!
      const which = (a >= half ? 1 : 0) | (b >= half ? 2 : 0) | (c >= half ? 4 : 0) | (d >= half ? 8 : 0)
      if (which === 0 || which === 15) continue
      const top = x + crossing(a, b)
      const right = y + crossing(b, c)
      const bottom = x + crossing(d, c)
      const left = y + crossing(a, d)
      switch (which) {
        case 1:
        case 14:
          piece(x, left, top, y)
          break
        case 2:
        case 13:
          piece(top, y, x + 1, right)
          break
        case 4:
        case 11:
          piece(x + 1, right, bottom, y + 1)
          break
        case 8:
        case 7:
          piece(x, left, bottom, y + 1)
          break
        case 3:
        case 12:
          piece(x, left, x + 1, right)
          break
        case 6:
        case 9:
          piece(top, y, bottom, y + 1)
          break
        // Two corners across: joined where the middle is covered.
        case 5:
        case 10: {
          const joined = a + b + c + d >= 4 * half === (which === 5)
          if (joined) {
            piece(top, y, x + 1, right)
            piece(x, left, bottom, y + 1)
          } else {
            piece(x, left, top, y)
            piece(x + 1, right, bottom, y + 1)
          }
        }
      }
    }
  }
}

/** Coverage from which a pixel's middle counts as covered. */
export const half = 127.5

/** Where between two middles the edge lies, 0..1: by the sum of coverage where it is steep, else by a straight line. */
function crossing(a: number, b: number): number {
  const [more, less] = a > b ? [a, b] : [b, a]
  const along =
    more - less >= half
      ? Math.min(1, Math.max(0, (more + less - half) / 255))
      : (more - half) / Math.max(1e-9, more - less)
  return a > b ? along : 1 - along
}
