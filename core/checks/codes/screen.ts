/** Round dots that meet as squares at half coverage, turned by 45°: the usual shape of an amplitude screen. */

/** Whether a dot of a screen lies at a place, in cells of the screen; `coverage` of the area has one. */
export function dotAt(x: number, y: number, coverage: number): boolean {
  const u = (x + y) * Math.SQRT1_2
  const v = (x - y) * Math.SQRT1_2
  const height = Math.cos(2 * Math.PI * u) + Math.cos(2 * Math.PI * v)
  return height > heights[Math.round((1 - coverage) * (heights.length - 1))]!
}

/** Height that a share of a cell lies below, by that share. */
const heights = (() => {
  const side = 128
  const all = new Float64Array(side * side)
  for (let j = 0; j < side; j++)
    for (let i = 0; i < side; i++)
      all[j * side + i] =
        Math.cos((2 * Math.PI * (i + 0.5)) / side) + Math.cos((2 * Math.PI * (j + 0.5)) / side)
  return all.sort()
})()
