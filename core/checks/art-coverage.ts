import type { ArtFile, Layer } from '../art/layer.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { averageOver } from '../material/average.ts'
import { coverageRows } from '../material/coverage.ts'
import { type Grid, gridUnder, under } from '../material/grid.ts'
import type { MaterialMap } from '../material/map.ts'

/** Map rows that are read at once, and bytes of decoded planes kept between them. */
const stripRows = 64
const keepBytes = 32 * 2 ** 20

/**
 * How much of each pixel of a map these layers paint together, 0..255: their own shapes, masks and opacity, whatever
 * their colour. Throws Cancelled when told to stop.
 */
export async function artCoverage(
  file: ArtFile,
  layers: readonly Layer[],
  map: Pick<MaterialMap, 'width' | 'height' | 'widthMm' | 'heightMm'>,
  task?: Task,
): Promise<Uint8Array> {
  const out = new Uint8Array(map.width * map.height)
  if (layers.length === 0) return out
  const grid: Grid = gridUnder(file.art, map)
  const rows = coverageRows(
    file,
    { kind: 'layers', layers, amount: { from: 'alpha' } },
    { rows: Math.max(8, Math.ceil((stripRows * file.art.height) / map.height)), keep: keepBytes, task },
    'amount',
  )
  for (let from = 0; from < map.height; from += stripRows) {
    checkCancelled(task)
    const to = Math.min(map.height, from + stripRows)
    const [top, bottom] = under(grid.rows, from, to)
    const part = await rows.over(top, bottom)
    if (part === null) continue
    averageOver(
      grid,
      part.box,
      from,
      to,
      i => part.data[i]!,
      (x, y, mean) => {
        out[y * map.width + x] = Math.round(255 * Math.min(1, mean))
      },
    )
  }
  return out
}
