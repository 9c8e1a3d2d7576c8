import { type ArtFile, type Layer, type Plane, processCount } from '../../art/layer.ts'
import type { Task } from '../../base/task.ts'
import { coverageRows } from '../../material/coverage.ts'
import { reachOf } from '../../roles/members.ts'
import type { CoveragePlane } from '../white/contour.ts'

/** A layer's own shape at the art's resolution, 0..255, and where its upper left pixel lies on the document. */
export interface LayerShape extends CoveragePlane {
  readonly left: number
  readonly top: number
}

/** Bytes of decoded planes kept while a shape is read. */
const keepBytes = 16 * 2 ** 20
const stripRows = 256

/** Null where nothing is painted. Throws Cancelled when told to stop. */
export async function layerShape(file: ArtFile, layer: Layer, task?: Task): Promise<LayerShape | null> {
  const box = reachOf(file.art, [layer])
  const width = box.right - box.left
  const height = box.bottom - box.top
  if (width <= 0 || height <= 0) return null
  const data = new Uint8Array(width * height)
  const rows = coverageRows(
    file,
    { kind: 'layers', layers: [layer], amount: { from: 'alpha' } },
    { rows: stripRows, keep: keepBytes, task },
    'amount',
  )
  let any = false
  for (let top = box.top; top < box.bottom; top += stripRows) {
    const part = await rows.over(top, Math.min(box.bottom, top + stripRows))
    if (part === null) continue
    const across = part.box.right - part.box.left
    const left = Math.max(box.left, part.box.left)
    const right = Math.min(box.right, part.box.right)
    for (
      let y = Math.max(top, part.box.top);
      y < Math.min(box.bottom, part.box.bottom, top + stripRows);
      y++
    ) {
      const from = (y - part.box.top) * across - part.box.left
      const to = (y - box.top) * width - box.left
      for (let x = left; x < right; x++) {
        const amount = part.data[from + x]!
        if (amount <= 0) continue
        any = true
        data[to + x] = Math.round(255 * Math.min(1, amount))
      }
    }
  }
  return any ? { width, height, data, left: box.left, top: box.top } : null
}

/** Whether a layer's pixels are one flat colour, as they are in line art. */
export async function isFlat(file: ArtFile, layer: Layer): Promise<boolean> {
  for (let channel = 0; channel < processCount(file.art.colorMode); channel++) {
    const plane = await file.layerPlane(layer.id, channel)
    if (plane === null || !evenly(plane)) return false
  }
  return true
}

function evenly({ data }: Plane): boolean {
  for (let i = 1; i < data.length; i++) if (data[i] !== data[0]) return false
  return data.length > 0
}
