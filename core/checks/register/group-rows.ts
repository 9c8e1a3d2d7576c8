import type { Surface } from '../../art/composite.ts'
import { heldStrips } from '../../art/held-picture.ts'
import type { Art, ArtFile } from '../../art/layer.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import { type CoverageRows, coverageRows, unionRows } from '../../material/coverage.ts'
import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { platesOf, type Source, strayInks } from '../../material/plates.ts'
import { SurfaceRows } from '../../material/rows.ts'
import { processInk } from '../../roles/assign.ts'
import { knockingLayers } from '../../roles/knocking.ts'
import { type Rgb, rgbReader } from '../../roles/tone.ts'
import type { CheckInput } from '../input.ts'
import type { PrintedGroup } from './groups.ts'
import { isOutlined, outlinedRows } from './outlined-rows.ts'
import type { RowPicture } from './row-picture.ts'

/** Rows read at once, and bytes of decoded planes kept meanwhile. */
const stripRows = 128
const stripKeep = 64 * 2 ** 20

export async function* rowsOf(
  { width, height, parts }: RowPicture,
  task?: Task,
): AsyncGenerator<Float32Array> {
  for (let top = 0; top < height; top += stripRows) {
    checkCancelled(task)
    const bottom = Math.min(height, top + stripRows)
    const { data } = await unionRows(parts, width, top, bottom)
    for (let y = top; y < bottom; y++) yield data.subarray((y - top) * width, (y - top + 1) * width)
  }
}

/** What art of pixels has of a group: its outlines, its other layers and channels. */
export function artRows(
  assigned: CheckInput['assigned'],
  file: ArtFile,
  group: PrintedGroup,
  task?: Task,
): readonly RowPicture[] {
  const { art } = file
  const sources = sourcesOf(assigned, art, group)
  const outlined = outlinedRows(
    art,
    sources.filter(source => isOutlined(art, source)),
  )
  const others = sources.filter(source => !isOutlined(art, source))
  const own = rowsOfSources(assigned, file, group, others, task)
  return [outlined, own].filter(one => one !== null)
}

/** What the map alone has of a group: areas of holography that the art does not know, and a white made from the art. */
export function drawnOnMap(map: MaterialMap, art: Art, group: PrintedGroup): readonly RowPicture[] {
  switch (group) {
    case 'holography': {
      const known = new Set([...art.layers, ...art.channels].map(one => one.id))
      const drawn = new Set(
        map.areas.filter(area => area.id !== 0 && !known.has(area.layerId)).map(area => area.id),
      )
      return drawn.size === 0 ? [] : [mapRows(map, group, id => drawn.has(id))]
    }
    case 'white': {
      const whites = map.whites.filter(white => white.made)
      return whites.length === 0 ? [] : [mapRows({ ...map, whites }, group, () => true)]
    }
    case 'colour':
      return []
  }
}

/** What the file itself has of a group; null where it has nothing. */
export function drawnRows(
  assigned: CheckInput['assigned'],
  file: ArtFile,
  group: PrintedGroup,
  task?: Task,
): RowPicture | null {
  return rowsOfSources(assigned, file, group, sourcesOf(assigned, file.art, group), task)
}

type Roles = ReadonlyMap<string, CheckInput['assigned'][number]>

const rolesOf = (assigned: CheckInput['assigned']): Roles =>
  new Map(assigned.map(one => [`${one.target.kind} ${one.target.id}`, one]))

/** Layers and channels of a group, but for the process inks. */
export function sourcesOf(
  assigned: CheckInput['assigned'],
  art: Art,
  group: PrintedGroup,
): readonly Source[] {
  const roles = rolesOf(assigned)
  const plates =
    group === 'colour'
      ? [...platesOf(art, 'spotInk', roles, []), ...strayInks(art, roles, [])]
      : platesOf(art, group, roles, [])
  return plates.flatMap(plate => plate.sources)
}

/** These sources, and the process inks where the group is colour; null for none. */
function rowsOfSources(
  assigned: CheckInput['assigned'],
  file: ArtFile,
  group: PrintedGroup,
  sources: readonly Source[],
  task: Task | undefined,
): RowPicture | null {
  const { art } = file
  const parts = sources.map(source => sourceRows(file, source, task))
  if (group === 'colour') parts.push(...processRows(file, assigned, task))
  return parts.length === 0 ? null : { width: art.width, height: art.height, parts }
}

export const sourceRows = (file: ArtFile, source: Source, task: Task | undefined): CoverageRows =>
  coverageRows(file, source, { rows: stripRows, keep: stripKeep, task }, 'amount')

/** The process inks: layers as they print together, and channels named after an ink. */
function processRows(
  file: ArtFile,
  assigned: CheckInput['assigned'],
  task: Task | undefined,
): readonly CoverageRows[] {
  const layers = processLayers(file.art, assigned)
  return [
    ...processChannels(file.art, assigned).map(source => sourceRows(file, source, task)),
    ...(layers === null ? [] : [layerInkRows(file, layers, task)]),
  ]
}

/** Channels that are named after a process ink and print as one. */
export function processChannels(art: Art, assigned: CheckInput['assigned']): readonly Source[] {
  const roles = rolesOf(assigned)
  return art.channels
    .filter(({ id, name }) => roles.get(`channel ${id}`)?.role === 'overprint' && processInk(name) !== null)
    .map(channel => ({ kind: 'channel', channel }))
}

/** Layers that print process inks together, and those that knock out of them. */
export interface InkLayers {
  readonly layers: ReadonlySet<string>
  readonly knocking: ReadonlySet<string>
}

/** Null where no layer does. */
export function processLayers(art: Art, assigned: CheckInput['assigned']): InkLayers | null {
  const layers = new Set(
    assigned.filter(one => one.role === 'overprint' && one.target.kind === 'layer').map(one => one.target.id),
  )
  if (!art.layers.some(layer => layer.kind !== 'group' && layers.has(layer.id))) return null
  return { layers, knocking: new Set(knockingLayers(art, assigned)) }
}

/** Where the process inks of layers count, as they print together. */
export function layerInkRows(
  file: ArtFile,
  { layers, knocking }: InkLayers,
  task: Task | undefined,
): CoverageRows {
  const region = { left: 0, top: 0, right: file.art.width, bottom: file.art.height }
  const quiet = task?.signal ? { signal: task.signal } : undefined
  const strips = heldStrips(file, layers, { stripRows, keep: stripKeep, knocking }, quiet)
  const rows = new SurfaceRows(strips, region)
  const density = densityOf(file)
  return {
    over: async (top, bottom) => {
      const surface = await rows.over(top, bottom)
      if (!surface) return null
      const data = surface.alpha.map((alpha, i) =>
        alpha === 0 ? 0 : alpha * Math.min(1, density(surface, i) / leastDensity),
      )
      return { box: surface.box, data, surface: null }
    },
  }
}

/** Less of the strongest ink than this shows no edge to speak of on foil. */
export const leastDensity = 0.2

/** The strongest ink of a pixel, 0..1, without its alpha; of art that is no CMYK, what of light the darkest primary lacks. */
function densityOf(file: ArtFile): (surface: Surface, i: number) => number {
  if (file.art.colorMode === 'CMYK')
    return ({ planes }, i) => 1 - Math.min(planes[0]![i]!, planes[1]![i]!, planes[2]![i]!, planes[3]![i]!)
  const rgb = rgbReader(file.art)
  const colour: Rgb = [0, 0, 0]
  return (surface, i) => 1 - Math.min(...rgb(surface, i, colour))
}

/** The same out of a map. @param isArea which areas of holography count */
export function mapRows(map: MaterialMap, group: PrintedGroup, isArea: (id: number) => boolean): RowPicture {
  const { width, height } = map
  const names = {
    holography: ['area'],
    white: map.whites.map(white => white.coverage),
    colour: ['C', 'M', 'Y', 'K', ...map.spots.map(spot => spot.coverage)],
  }[group]
  const readers = names.map(name => new PlaneReader(map.planes.get(name), width))
  const amount = {
    holography: (value: number) => (value !== 0 && isArea(value) ? 1 : 0),
    white: (value: number) => value / 255,
    colour: (value: number) => Math.min(1, value / 255 / leastDensity),
  }[group]
  // Of each number that a plane can hold there: bytes, or more where there are many areas.
  const most = readers.some(({ data }) => !(data instanceof Uint8Array)) ? 65_536 : 256
  const amounts = Float32Array.from({ length: most }, (_, value) => amount(value))
  return {
    width,
    height,
    parts: readers.map(reader => ({
      over: async (top, bottom) => {
        const data = new Float32Array(width * (bottom - top))
        let any = false
        for (let y = top, i = 0; y < bottom; y++)
          for (let x = 0; x < width; x++, i++) {
            const at = reader.at(x, y)
            const value = at < 0 ? 0 : amounts[reader.data[at]!]!
            if (value === 0) continue
            data[i] = value
            any = true
          }
        return any ? { box: { left: 0, top, right: width, bottom }, data, surface: null } : null
      },
    })),
  }
}
