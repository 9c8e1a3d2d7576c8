import type { ArtFile } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { stroked } from '../base/polygons.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import type { Point } from '../carton/die.ts'
import { coverageRows, unionRows } from '../material/coverage.ts'
import { outlineRows } from '../material/outline-rows.ts'
import { platesOf } from '../material/plates.ts'
import type { SeparateOptions } from './ink-plate.ts'
import { PackedPlane } from './packed-plane.ts'
import { dielineName } from './plate-names.ts'
import { roleTable } from './plate-plan.ts'
import type { PlateSheet } from './plate-sheet.ts'

/** Width of the die's lines on a plate of pixels, mm. */
const lineMm = 0.2

/**
 * The die on the art's pixels: its vectors as fine lines, else the layers that draw it. Null where there is none.
 */
export async function dieline(
  file: ArtFile,
  { assigned, panel }: SeparateOptions,
  { die, arts }: PlateSheet,
  findings: Finding[],
  task: Task,
): Promise<PackedPlane | null> {
  const { art } = file
  const at = arts[0]?.at
  const strips = {
    rows: stripRows,
    keep: 32 * 2 ** 20,
    task: task.signal ? { signal: task.signal } : undefined,
  }
  if (die && die.lines.length > 0 && at) {
    const lines = die.lines.map(({ points }) => points.map(([x, y]): Point => [x - at[0], y - at[1]]))
    const outline = { id: dielineName, name: dielineName, rings: stroked(lines, lineMm) }
    const sheet = { width: art.width, height: art.height, ...panel }
    return filledPlane(art, [outlineRows(sheet, outline)], task)
  }
  const sources = platesOf(art, 'dieline', roleTable(assigned), findings).flatMap(plate => plate.sources)
  if (sources.length === 0) return null
  findings.push(dieInPixels)
  return filledPlane(
    art,
    sources.map(source => coverageRows(file, source, strips, 'amount')),
    task,
  )
}

const stripRows = 128

async function filledPlane(
  { width, height }: { readonly width: number; readonly height: number },
  sources: Parameters<typeof unionRows>[0],
  task: Task,
): Promise<PackedPlane> {
  const plane = new PackedPlane(width, height)
  for (let top = 0; top < height; top += stripRows) {
    checkCancelled(task)
    task.progress?.(top / height, 'Drawing the dieline')
    const { data } = await unionRows(sources, width, top, Math.min(height, top + stripRows))
    plane.push(Uint8Array.from(data, part => Math.round(255 * Math.min(1, Math.max(0, part)))))
  }
  return plane
}

const dieInPixels: Finding = {
  severity: 'warning',
  code: 'dieline-in-pixels',
  where: 'dieline',
  message:
    'cuts and creases cannot be told apart as the art draws it: it is a picture of its own, and no lines',
  fix: 'Choose a carton, or keep the die as shape layers named "cut" and "crease".',
}
