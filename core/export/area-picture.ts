import { ringsPath } from '../base/path-data.ts'
import { knownKind } from '../effects/kinds.ts'
import type { MapArea, MaterialMap } from '../material/map.ts'
import { PlaneReader } from '../material/plane.ts'
import { escaped } from './report-page.ts'

/** Cells along the longer side of the panel: areas are told apart, not measured, by this picture. */
const longest = 500
/** User units of the picture: millimetres. */
const legendWidth = 110
const row = 12
const margin = 8

/**
 * A flat picture of a map's areas of holography, one colour and number each, with a legend of what they are: SVG,
 * nothing fetched, all words of the job escaped.
 * @param title what it is a picture of
 */
export function areaPicture(map: MaterialMap, title: string): string {
  const grid = areaGrid(map)
  const areas = map.areas.filter(area => area.id > 0)
  const cell = map.widthMm / grid.width
  const down = map.heightMm / grid.height
  const height = Math.max(map.heightMm, row * (areas.length + 1)) + 2 * margin + row
  const width = map.widthMm + legendWidth + 3 * margin
  const marks = insides(grid)
  const size = Math.max(3, Math.min(6, map.widthMm / 20))
  const shapes = areas.map((area, i) => {
    const path = ringsPath(
      outlineOf(grid, area.id).map(loop => loop.map(([x, y]) => [short(x * cell), short(y * down)] as const)),
    )
    const at = marks.get(area.id)
    return path === ''
      ? ''
      : `<path d="${path}" fill="${colorOf(i)}" fill-rule="evenodd"/>${
          at === undefined
            ? ''
            : `<text x="${short((at[0] + 0.5) * cell)}" y="${short((at[1] + 0.5) * down + size / 3)}" font-size="${short(size)}" text-anchor="middle" stroke="#fff" stroke-width="0.6" paint-order="stroke">${i + 1}</text>`
        }`
  })
  const legend = areas.map((area, i) => {
    const y = i * row
    return `<rect x="0" y="${y}" width="8" height="8" rx="1" fill="${colorOf(i)}"/><text x="4" y="${y + 5.6}" font-size="4.5" text-anchor="middle">${i + 1}</text><text x="11" y="${y + 3.4}" font-size="4.2" font-weight="600">${escaped(area.name)}</text><text x="11" y="${y + 8}" font-size="3.6" fill="#555">${escaped(wordsOf(area, grid))}</text>`
  })
  const nothing = `<text y="6" font-size="4.2">No area carries holography.</text>`
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${short(width)}mm" height="${short(height)}mm" viewBox="0 0 ${short(width)} ${short(height)}" font-family="system-ui, sans-serif" fill="#222" role="img">`,
    `<title>${escaped(`Areas of holography: ${title}`)}</title>`,
    `<rect width="100%" height="100%" fill="#fff"/>`,
    `<text x="${margin}" y="${margin + 4}" font-size="5" font-weight="600">${escaped(title)}</text>`,
    `<g transform="translate(${margin} ${margin + row})"><rect width="${short(map.widthMm)}" height="${short(map.heightMm)}" fill="#f2f2f2"/>${shapes.join('')}<rect width="${short(map.widthMm)}" height="${short(map.heightMm)}" fill="none" stroke="#666" stroke-width="0.3"/></g>`,
    `<g transform="translate(${short(map.widthMm + 2 * margin)} ${margin + row})">${legend.length === 0 ? nothing : legend.join('')}</g>`,
    '</svg>',
    '',
  ].join('\n')
}

interface AreaGrid {
  readonly width: number
  readonly height: number
  readonly ids: Uint16Array
  /** Of a cell, mm². */
  readonly square: number
}

/** The area of each cell's middle. */
function areaGrid(map: MaterialMap): AreaGrid {
  const scale = Math.min(1, longest / Math.max(map.width, map.height))
  const width = Math.max(1, Math.round(map.width * scale))
  const height = Math.max(1, Math.round(map.height * scale))
  const plane = new PlaneReader(map.planes.get('area'), map.width)
  const ids = new Uint16Array(width * height)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = plane.at(
        Math.floor(((x + 0.5) * map.width) / width),
        Math.floor(((y + 0.5) * map.height) / height),
      )
      ids[y * width + x] = at < 0 ? 0 : plane.data[at]!
    }
  return { width, height, ids, square: (map.widthMm / width) * (map.heightMm / height) }
}

type Corner = readonly [x: number, y: number]

/** The borders of an area along its cells, as closed loops. */
function outlineOf({ width, height, ids }: AreaGrid, id: number): readonly (readonly Corner[])[] {
  const is = (x: number, y: number) =>
    x >= 0 && y >= 0 && x < width && y < height && ids[y * width + x] === id
  const wide = width + 1
  const next = new Map<number, number[]>()
  const side = (x: number, y: number, toX: number, toY: number) => {
    const from = y * wide + x
    const ends = next.get(from)
    if (ends) ends.push(toY * wide + toX)
    else next.set(from, [toY * wide + toX])
  }
  // Clockwise around each cell; sides between two cells of the area are left out.
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      if (!is(x, y)) continue
      if (!is(x, y - 1)) side(x, y, x + 1, y)
      if (!is(x + 1, y)) side(x + 1, y, x + 1, y + 1)
      if (!is(x, y + 1)) side(x + 1, y + 1, x, y + 1)
      if (!is(x - 1, y)) side(x, y + 1, x, y)
    }
  const loops: Corner[][] = []
  for (const [start, ends] of next)
    while (ends.length > 0) {
      const loop: Corner[] = []
      let at = start
      do {
        const to = next.get(at)!.pop()!
        const corner: Corner = [at % wide, Math.floor(at / wide)]
        const before = loop.at(-1)
        const straight = before && (before[0] === to % wide || before[1] === Math.floor(to / wide))
        if (!straight) loop.push(corner)
        at = to
      } while (at !== start)
      loops.push(loop)
    }
  return loops
}

/** The cell of each area that lies furthest from its border, by steps along rows and columns. */
function insides({ width, height, ids }: AreaGrid): ReadonlyMap<number, Corner> {
  const steps = new Uint16Array(width * height)
  const beside = (at: number, x: number, y: number) =>
    x >= 0 && y >= 0 && x < width && y < height && ids[y * width + x] === ids[at] ? steps[y * width + x]! : 0
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = y * width + x
      steps[at] = 1 + Math.min(beside(at, x - 1, y), beside(at, x, y - 1))
    }
  const best = new Map<number, { readonly corner: Corner; readonly steps: number }>()
  for (let y = height - 1; y >= 0; y--)
    for (let x = width - 1; x >= 0; x--) {
      const at = y * width + x
      steps[at] = Math.min(steps[at]!, 1 + Math.min(beside(at, x + 1, y), beside(at, x, y + 1)))
      if (steps[at]! > (best.get(ids[at]!)?.steps ?? 0))
        best.set(ids[at]!, { corner: [x, y], steps: steps[at]! })
    }
  return new Map([...best].map(([id, { corner }]) => [id, corner]))
}

function wordsOf(area: MapArea, { ids, square }: AreaGrid): string {
  const kind = knownKind(area.effect)?.title ?? `unknown effect “${area.effect}”, shown as plain foil`
  const count = ids.reduce((sum, id) => sum + (id === area.id ? 1 : 0), 0)
  return `${kind}, ${Math.round(count * square)} mm²`
}

/** Hues a golden angle apart, so that neighbours in the list differ; light and lighter in turn. */
const colorOf = (i: number): string => `hsl(${Math.round((i * 137.508) % 360)} 65% ${i % 2 ? 78 : 64}%)`

const short = (value: number): number => Math.round(value * 100) / 100
