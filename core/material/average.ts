import type { Box } from '../art/layer.ts'
import { type Grid, over } from './grid.ts'

/**
 * Means of a value of document pixels over the map pixels of rows from..to; outside its box the value is 0.
 * @param read the value at index `i` of the box, row by row
 * @param put  is told every map pixel that the box touches, column and row of the map
 * @param within columns of the map that are looked at; left out: all
 */
export function averageOver(
  grid: Grid,
  box: Box,
  from: number,
  to: number,
  read: (i: number) => number,
  put: (x: number, y: number, mean: number) => void,
  within: { readonly left: number; readonly right: number } = { left: 0, right: grid.width },
): void {
  const { columns, rows } = grid
  const width = box.right - box.left
  const [first, end] = over(columns, box.left, box.right)
  const left = Math.max(first, within.left)
  const right = Math.min(end, within.right)
  const alone = columns.most === 1 && rows.most === 1
  for (let y = from; y < to; y++) {
    if (alone) {
      const down = rows.start[y]!
      if (down < box.top || down >= box.bottom) continue
      const line = (down - box.top) * width - box.left
      for (let x = left; x < right; x++) put(x, y, read(line + columns.start[x]!))
      continue
    }
    for (let x = left; x < right; x++) {
      let sum = 0
      for (let j = 0; j < rows.count[y]!; j++) {
        const down = rows.start[y]! + j
        if (down < box.top || down >= box.bottom) continue
        const line = (down - box.top) * width - box.left
        const weight = rows.weights[y * rows.most + j]!
        for (let i = 0; i < columns.count[x]!; i++) {
          const across = columns.start[x]! + i
          if (across >= box.left && across < box.right)
            sum += weight * columns.weights[x * columns.most + i]! * read(line + across)
        }
      }
      put(x, y, sum)
    }
  }
}
