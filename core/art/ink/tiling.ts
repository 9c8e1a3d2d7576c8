import { BadInput } from '../../base/finding.ts'
import type { PixelBox } from './coverage.ts'
import type { TilingNode } from './nodes.ts'
import { boundsThrough } from './outline.ts'

/** Copies of a cell in one band, at most. */
const mostCopies = 2e6

/** Where copies of a tiling's cell lie that reach a box: how far each is from the cell at 0, 0, pixels. */
export function copiesIn(node: TilingNode, box: PixelBox, each: (dx: number, dy: number) => void): void {
  const { tiling, toPixels } = node
  const [left, bottom, right, top] = tiling.box
  const stepX = Math.abs(tiling.stepX) || right - left
  const stepY = Math.abs(tiling.stepY) || top - bottom
  const seen = boundsThrough([box.left, box.top, box.right, box.bottom], node.fromPixels)
  const fromI = Math.ceil((seen[0] - right) / stepX)
  const toI = Math.floor((seen[2] - left) / stepX)
  const fromJ = Math.ceil((seen[1] - top) / stepY)
  const toJ = Math.floor((seen[3] - bottom) / stepY)
  if (!((toI - fromI + 1) * (toJ - fromJ + 1) <= mostCopies))
    throw new BadInput(
      'pattern-too-fine',
      'art',
      `pattern with steps of ${stepX} by ${stepY}`,
      `more than ${mostCopies} copies of its cell fall into one band of pixels`,
      'Draw the pattern with a larger cell, or read the art at a lower resolution.',
    )
  const [a, b, c, d] = toPixels
  for (let j = fromJ; j <= toJ; j++)
    for (let i = fromI; i <= toI; i++) {
      const x = i * stepX
      const y = j * stepY
      each(a * x + c * y, b * x + d * y)
    }
}
