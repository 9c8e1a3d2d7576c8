import type { ArtFile } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { checkCancelled } from '../base/task.ts'
import type { GratingField, ViewField } from '../effects/effect.ts'
import { type Picture, Raster } from '../effects/picture.ts'
import { leavesOf, reachOf } from '../roles/members.ts'
import { lightnessOf, type Rgb, rgbReader } from '../roles/tone.ts'
import type { HolographyArea } from './area-plan.ts'
import { averageOver } from './average.ts'
import { coverageRows, type StripOptions } from './coverage.ts'
import { type Grid, over, under } from './grid.ts'
import type { Source } from './plates.ts'

/** An area whose field no longer waits for pictures. */
export type OpenArea = Omit<HolographyArea, 'field'> & { readonly field: GratingField | ViewField }

/** Document rows read at once. */
const stripRows = 256
const keep = 64 * 2 ** 20

/** Shows every field the pictures that it wants: whole layers at the map's resolution, three to four bytes a pixel each. */
export async function openFields(
  file: ArtFile,
  grid: Grid,
  areas: readonly HolographyArea[],
  findings: Finding[],
  task: StripOptions['task'],
): Promise<readonly OpenArea[]> {
  const read = new Map<string, Picture>()
  const out: OpenArea[] = []
  for (const area of areas) {
    const { field } = area
    if (field.kind !== 'pictures') {
      out.push({ ...area, field })
      continue
    }
    const pictures: Picture[] = []
    for (const wanted of field.wants) {
      const source = wanted.from === 'own' ? area.source : layerSource(file, area, wanted.id, findings)
      const key = wanted.from === 'own' ? `own ${area.id}` : wanted.id
      const picture = read.get(key) ?? (await pictureOf(file, grid, source, task))
      read.set(key, picture)
      pictures.push(picture)
    }
    out.push({ ...area, field: field.open(pictures) })
  }
  return out
}

function layerSource(file: ArtFile, area: HolographyArea, id: string, findings: Finding[]): Source | null {
  const layers = leavesOf(file.art, id)
  if (layers.length > 0) return { kind: 'layers', layers, amount: { from: 'alpha' } }
  findings.push({
    severity: 'warning',
    code: 'picture-missing',
    where: `${area.target.kind} "${area.name}"`,
    message: `its effect shows layer ${id}, which the file does not have`,
    fix: 'Choose the layer again; until then its part stays dark.',
  })
  return null
}

/** A source at the map's resolution, as far as it reaches. */
async function pictureOf(
  file: ArtFile,
  grid: Grid,
  source: Source | null,
  task: StripOptions['task'],
): Promise<Picture> {
  const { art } = file
  const reach =
    source?.kind === 'layers'
      ? reachOf(art, source.layers)
      : { left: 0, top: 0, right: source ? art.width : 0, bottom: source ? art.height : 0 }
  const [left, right] = over(grid.columns, Math.max(0, reach.left), Math.min(art.width, reach.right))
  const [top, bottom] = over(grid.rows, Math.max(0, reach.top), Math.min(art.height, reach.bottom))
  const width = Math.max(0, right - left)
  const height = Math.max(0, bottom - top)
  const cover = new Uint16Array(width * height)
  const light = new Uint16Array(width * height)
  if (source && width > 0 && height > 0) {
    const rows = coverageRows(file, source, { rows: stripRows, keep, task })
    const rgb = rgbReader(art)
    const colour: Rgb = [0, 0, 0]
    const step = Math.max(1, Math.floor((stripRows * grid.height) / art.height))
    for (let from = top; from < bottom; from += step) {
      checkCancelled(task)
      const to = Math.min(bottom, from + step)
      const part = await rows.over(...under(grid.rows, from, to))
      if (!part) continue
      const { data, surface, box } = part
      const put = (into: Uint16Array) => (x: number, y: number, mean: number) => {
        if (x >= left && x < right) into[(y - top) * width + x - left] = Math.round(65535 * Math.min(1, mean))
      }
      averageOver(grid, box, from, to, i => data[i]!, put(cover))
      const lit = surface
        ? (i: number) => (data[i] === 0 ? 0 : data[i]! * lightnessOf(...rgb(surface, i, colour)))
        : (i: number) => data[i]!
      averageOver(grid, box, from, to, lit, put(light))
    }
  }
  const place = {
    leftMm: (left / grid.width) * grid.widthMm,
    bottomMm: (1 - (top + height) / grid.height) * grid.heightMm,
    widthMm: (width / grid.width) * grid.widthMm,
    heightMm: (height / grid.height) * grid.heightMm,
  }
  return { cover: new Raster(place, width, height, cover), light: new Raster(place, width, height, light) }
}
