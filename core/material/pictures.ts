import type { Art, ArtFile, Box } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { checkCancelled } from '../base/task.ts'
import type { OpenField, Wanted } from '../effects/effect.ts'
import { type Picture, Raster } from '../effects/picture.ts'
import { leavesOf, reachOf } from '../roles/members.ts'
import { lightnessOf, type Rgb, rgbReader } from '../roles/tone.ts'
import type { HolographyArea } from './area-plan.ts'
import { averageOver } from './average.ts'
import { coverageRows, type StripOptions } from './coverage.ts'
import { coarser, type Grid, over, under } from './grid.ts'
import { sourceKey } from './kept-coverage.ts'
import { outlineBox } from './outline-rows.ts'
import type { AreaSource } from './plates.ts'

/** An area whose field no longer waits for pictures. */
export type OpenArea = Omit<HolographyArea, 'field'> & { readonly field: OpenField }

/** Document rows read at once. */
const stripRows = 256
const keep = 64 * 2 ** 20
/** Bytes a pixel of a picture, with what effects make of it: cover and light, then light alone, or a blurred copy. */
const pictureBytes = 8
/** Memory that all pictures of a map may take, bytes. */
export const mostPictureBytes = 2 ** 30

/** Pictures by what they are made from and how large they are. */
export type PictureStore = Map<string, Picture>

/**
 * Shows every field the pictures that it wants: whole layers at the map's resolution, or at a coarser one where all of
 * them together would take too much memory; a finding says so.
 * @param known pictures that were read before, to which those that are read now are added, areas that are open
 *   already, and the bytes that all pictures may take
 */
export async function openFields(
  file: ArtFile,
  grid: Grid,
  areas: readonly HolographyArea[],
  findings: Finding[],
  task: StripOptions['task'],
  known: {
    readonly pictures?: PictureStore
    readonly openArea?: (area: HolographyArea) => OpenArea | undefined
    readonly most?: number
  } = {},
): Promise<readonly OpenArea[]> {
  const { pictures: read = new Map<string, Picture>(), openArea, most = mostPictureBytes } = known
  const own = pictureGrid(file, grid, areas, findings, most)
  const out: OpenArea[] = []
  for (const area of areas) {
    const { field } = area
    if (field.kind !== 'pictures') {
      out.push(openArea?.(area) ?? { ...area, field })
      continue
    }
    for (const wanted of field.wants)
      if (wanted.from === 'layer' && sourceOf(file.art, area, wanted) === null)
        findings.push(missing(area, wanted.id))
    const before = openArea?.(area)
    if (before) {
      out.push(before)
      continue
    }
    const pictures: Picture[] = []
    for (const wanted of field.wants) {
      const source = sourceOf(file.art, area, wanted)
      const key = `${own.width} × ${own.height} ${source ? sourceKey(source) : ''}`
      const picture = read.get(key) ?? (await pictureOf(file, own, source, task))
      read.set(key, picture)
      pictures.push(picture)
    }
    out.push({ ...area, field: field.open(pictures) })
  }
  return out
}

/** The map's grid, or one so much coarser that the pictures fit into memory. */
function pictureGrid(
  file: ArtFile,
  grid: Grid,
  areas: readonly HolographyArea[],
  findings: Finding[],
  most: number,
): Grid {
  const pixels = new Map<string, number>()
  for (const area of areas)
    if (area.field.kind === 'pictures')
      for (const wanted of area.field.wants) {
        const source = sourceOf(file.art, area, wanted)
        const { width, height } = pixelsOf(file.art, grid, source)
        pixels.set(source ? sourceKey(source) : '', width * height)
      }
  const whole = [...pixels.values()].reduce((sum, n) => sum + n, 0) * pictureBytes
  if (whole <= most) return grid
  const n = Math.ceil(Math.sqrt(whole / most))
  findings.push({
    severity: 'note',
    code: 'pictures-coarser',
    where: `${pixels.size} pictures of effects`,
    message: `they would take ${(whole / 2 ** 30).toFixed(1)} GB at the map's resolution, so they are kept at 1 / ${n} of it`,
    fix: 'Choose a lower resolution for the map, or fewer pictures, to see them as sharp as the rest.',
  })
  return coarser(grid, n)
}

/** What a picture is made from; null where the file does not have it. */
function sourceOf(art: Art, area: HolographyArea, wanted: Wanted): AreaSource | null {
  if (wanted.from === 'own') return area.source
  const layers = leavesOf(art, wanted.id)
  return layers.length > 0 ? { kind: 'layers', layers, amount: { from: 'alpha' } } : null
}

/** Pixels of a grid that a picture reaches. */
function pixelsOf(art: Art, grid: Grid, source: AreaSource | null) {
  const reach = reachOfSource(art, source)
  const [left, right] = over(grid.columns, Math.max(0, reach.left), Math.min(art.width, reach.right))
  const [top, bottom] = over(grid.rows, Math.max(0, reach.top), Math.min(art.height, reach.bottom))
  return { left, right, top, bottom, width: Math.max(0, right - left), height: Math.max(0, bottom - top) }
}

function reachOfSource(art: Art, source: AreaSource | null): Box {
  const nowhere: Box = { left: 0, top: 0, right: 0, bottom: 0 }
  switch (source?.kind) {
    case undefined:
      return nowhere
    case 'layers':
      return reachOf(art, source.layers)
    case 'channel':
      return { left: 0, top: 0, right: art.width, bottom: art.height }
    case 'outline':
      return outlineBox({ ...source, width: art.width, height: art.height }, source.outline) ?? nowhere
  }
}

function missing(area: HolographyArea, id: string): Finding {
  return {
    severity: 'warning',
    code: 'picture-missing',
    where: `${area.target.kind} "${area.name}"`,
    message: `its effect shows layer ${id}, which the file does not have`,
    fix: 'Choose the layer again; until then its part stays dark.',
  }
}

/** A source at the map's resolution, as far as it reaches. */
async function pictureOf(
  file: ArtFile,
  grid: Grid,
  source: AreaSource | null,
  task: StripOptions['task'],
): Promise<Picture> {
  const { art } = file
  const { left, right, top, bottom, width, height } = pixelsOf(art, grid, source)
  const cover = new Uint16Array(width * height)
  const light = new Uint16Array(width * height)
  if (source && width > 0 && height > 0) {
    const rows = coverageRows(file, source, { rows: stripRows, keep, task }, 'colour')
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
