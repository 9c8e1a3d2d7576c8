import type { MaterialMap } from '../../material/map.ts'
import type { MapPixels } from './map-pixels.ts'
import { matterReader } from './matter-key.ts'

/** One pixel of a map, and how many of a set it stands for. */
export interface SiteClass {
  readonly column: number
  readonly row: number
  /** Its middle, mm from the map's lower left corner. */
  readonly xMm: number
  readonly yMm: number
  readonly count: number
}

/** The different sites of a set of pixels. */
export interface SiteClasses {
  readonly classes: readonly SiteClass[]
  /** Pixels of the set: the sum of the counts. */
  readonly pixels: number
  /**
   * 0 = a class holds the same matter only; each more halves the fineness by which matter and places are told apart, so
   * that there are no more classes than asked for.
   */
  readonly coarseness: number
}

export interface ClassLimits {
  /** Most classes, ≥ 1. */
  readonly most: number
  /** Places farther apart than this are told apart: lamp and eye stand elsewhere for them. */
  readonly placeMm: number
  /** Pixels that are looked at; of a larger set they are taken evenly. */
  readonly looked: number
}

/** 10 mm are 1.4° as the eye sees them from 400 mm, the radius of a torch's flash on the usual board. */
export const usualClasses: ClassLimits = { most: 12, placeMm: 10, looked: 40_000 }

/** A distinct site: what it was made of, and the sum of its pixels' places. */
interface Kind {
  readonly values: readonly number[]
  count: number
  columns: number
  rows: number
}

/** The distinct sites of a set of pixels with their counts, the most common first. */
export function classesOf(
  map: MaterialMap,
  pixels: MapPixels,
  limits: ClassLimits = usualClasses,
): SiteClasses {
  const looked = thinned(pixels, limits.looked)
  const { kinds, kindOf } = kindsOf(map, looked, limits.placeMm)
  const { groups, coarseness } = grouped(map, kinds, limits.most)
  const part = pixels.length / Math.max(1, looked.length)
  const picked = nearestToMiddle(map, looked, kindOf, groups)
  const classes = groups.list.map(({ count }, i): SiteClass => {
    const column = picked[i]! % map.width
    const row = (picked[i]! - column) / map.width
    return {
      column,
      row,
      xMm: ((column + 0.5) / map.width) * map.widthMm,
      yMm: (1 - (row + 0.5) / map.height) * map.heightMm,
      count: count * part,
    }
  })
  return {
    classes: classes.sort((a, b) => b.count - a.count || a.row - b.row || a.column - b.column),
    pixels: pixels.length,
    coarseness,
  }
}

function thinned(pixels: MapPixels, most: number): MapPixels {
  if (pixels.length <= most) return pixels
  const step = pixels.length / most
  return Uint32Array.from({ length: most }, (_, i) => pixels[Math.floor((i + 0.5) * step)]!)
}

/** Sites told apart as finely as the map tells them. */
function kindsOf(map: MaterialMap, pixels: MapPixels, placeMm: number) {
  const { width } = map
  const read = matterReader(map)
  const square = placeMm * map.pixelsPerMm
  const kinds: Kind[] = []
  const known = new Map<string, number>()
  const kindOf = new Uint32Array(pixels.length)
  for (const [i, pixel] of pixels.entries()) {
    const column = pixel % width
    const row = (pixel - column) / width
    const values = [Math.floor(column / square), Math.floor(row / square), ...read.at(column, row)]
    const key = values.join()
    let kind = known.get(key)
    if (kind === undefined) {
      kind = kinds.push({ values, count: 0, columns: 0, rows: 0 }) - 1
      known.set(key, kind)
    }
    kindOf[i] = kind
    const one = kinds[kind]!
    one.count++
    one.columns += column
    one.rows += row
  }
  return { kinds, kindOf }
}

interface Groups {
  readonly list: readonly { readonly count: number; readonly column: number; readonly row: number }[]
  /** Index of its group for each kind. */
  readonly of: Uint32Array
}

/** Kinds told apart ever more coarsely until they are few enough. */
function grouped(map: MaterialMap, kinds: readonly Kind[], most: number) {
  const { bits } = matterReader(map)
  // Places are whole squares, which double as well.
  const widths = [32, 32, ...bits]
  for (let coarseness = 0; ; coarseness++) {
    const known = new Map<string, number>()
    const of = Uint32Array.from(kinds, ({ values }) => {
      const key = values.map((value, i) => coarser(value, widths[i]!, coarseness)).join()
      const index = known.get(key) ?? known.size
      known.set(key, index)
      return index
    })
    if (known.size <= most || coarseness === coarsest)
      return { groups: groupsOf(kinds, known.size > most ? of.map(i => i % most) : of), coarseness }
  }
}

/** From here on everything that can be told apart by degree is alike; what is left apart differs in kind. */
const coarsest = 17

/** @param bits of the value; 0 for a name, which is never rounded */
function coarser(value: number, bits: number, coarseness: number): number {
  // Of 8 bits one goes each time, of 16 two.
  return bits === 0 ? value : Math.round(value / 2 ** (bits === 16 ? 2 * coarseness : coarseness))
}

function groupsOf(kinds: readonly Kind[], of: Uint32Array): Groups {
  const sums = Array.from({ length: kinds.length === 0 ? 0 : Math.max(...of) + 1 }, () => ({
    count: 0,
    columns: 0,
    rows: 0,
  }))
  for (const [i, kind] of kinds.entries()) {
    const sum = sums[of[i]!]!
    sum.count += kind.count
    sum.columns += kind.columns
    sum.rows += kind.rows
  }
  const list = sums.map(({ count, columns, rows }) => ({ count, column: columns / count, row: rows / count }))
  return { list, of }
}

/** Of each group the pixel that lies nearest to the mean of its places. */
function nearestToMiddle(
  { width }: MaterialMap,
  pixels: MapPixels,
  kindOf: Uint32Array,
  { list, of }: Groups,
): Uint32Array {
  const picked = new Uint32Array(list.length)
  const nearest = new Float64Array(list.length).fill(Number.POSITIVE_INFINITY)
  for (const [i, pixel] of pixels.entries()) {
    const group = of[kindOf[i]!]!
    const column = pixel % width
    const row = (pixel - column) / width
    const distance = (column - list[group]!.column) ** 2 + (row - list[group]!.row) ** 2
    if (distance >= nearest[group]!) continue
    nearest[group] = distance
    picked[group] = pixel
  }
  return picked
}
