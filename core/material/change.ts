import type { PrintCondition } from '../color/print-condition.ts'
import { type Dirty, nextEdition } from './edition.ts'
import type { MaterialMap, PlaneData } from './map.ts'
import type { MapHead } from './map-head.ts'
import { TileStore } from './tile-store.ts'

/** What became of a map, for whoever holds the one before: only tiles that differ. */
export interface MapChange {
  readonly head: Omit<MapHead, 'print'>
  /** Null: as it was. */
  readonly print: { readonly now: PrintCondition | null } | null
  /** A list a level, the finest first. */
  readonly levels: readonly ReadonlyMap<string, PlaneChange>[]
}

/** Tiles of one plane. */
export interface PlaneChange {
  readonly tiles: Int32Array
  /** Of each tile: 0, it is there no more; 1, one pixel stands for all; 2, all pixels follow. */
  readonly kinds: Uint8Array
  /** Samples of one tile after the other. */
  readonly data: PlaneData
}

const gone = 0
const even = 1
const full = 2

/** The tiles of a map that differ, to be sent. @param printBefore of the map that the other side holds */
export function changeOf(
  levels: readonly MaterialMap[],
  dirty: Dirty,
  printBefore: MaterialMap['print'],
): MapChange {
  const { planes: _, print = null, ...head } = levels[0]!
  return {
    head,
    print: print === printBefore ? null : { now: print },
    levels: levels.map((map, level) => {
      const store = new TileStore(new Map(map.planes), map)
      const named = [...(dirty[level] ?? [])].filter(([name]) => map.planes.has(name))
      return new Map(named.map(([name, tiles]) => [name, planeChange(store, name, tiles)]))
    }),
  }
}

function planeChange(store: TileStore, name: string, tiles: readonly number[]): PlaneChange {
  const components = store.components(name)
  const parts = tiles.map(tile => {
    const data = store.get(name, tile)
    return data && isEven(data, components) ? data.subarray(0, components) : data
  })
  const kinds = Uint8Array.from(parts, part =>
    part === null ? gone : part.length === components ? even : full,
  )
  const data = store.array(
    name,
    parts.reduce((sum, part) => sum + (part?.length ?? 0), 0),
  )
  let at = 0
  for (const part of parts) {
    if (part === null) continue
    data.set(part, at)
    at += part.length
  }
  return { tiles: Int32Array.from(tiles), kinds, data }
}

function isEven(data: PlaneData, components: number): boolean {
  for (let i = components; i < data.length; i++) if (data[i] !== data[i - components]) return false
  return true
}

/**
 * The levels after a change. Planes are written over in place, so the levels before are used up; whoever shows them
 * finds what differs by `dirtySince`.
 */
export function applyChange(levels: readonly MaterialMap[], change: MapChange): readonly MaterialMap[] {
  const print = change.print === null ? (levels[0]?.print ?? null) : change.print.now
  const after = levels.map((map, level): MaterialMap => {
    const { width, height, pixelsPerMm } = map
    const head: MapHead = { ...change.head, print, width, height, pixelsPerMm }
    const planes = new Map(map.planes)
    const store = new TileStore(planes, head)
    for (const [name, plane] of change.levels[level] ?? []) putPlane(store, name, plane)
    return { ...head, planes }
  })
  const dirty: Dirty = change.levels.map(
    planes => new Map([...planes].map(([name, { tiles }]) => [name, [...tiles]])),
  )
  nextEdition(levels, after, dirty)
  return after
}

function putPlane(store: TileStore, name: string, { tiles, kinds, data }: PlaneChange): void {
  const components = store.components(name)
  let at = 0
  tiles.forEach((tile, i) => {
    const kind = kinds[i]
    if (kind === gone) {
      store.put(name, tile, null)
      return
    }
    const length = store.length(name, tile)
    if (kind === even) {
      const filled = store.array(name, length)
      for (let c = 0; c < components; c++)
        for (let to = c; to < length; to += components) filled[to] = data[at + c]!
      store.put(name, tile, filled)
      at += components
    } else {
      store.put(name, tile, data.subarray(at, at + length))
      at += length
    }
  })
}

/**
 * Takes what was painted anew into a level, in place, as far as it differs.
 * @param head   of the level from now on
 * @param fresh  planes that hold nothing but some tiles
 * @param tiles  numbers of these
 * @param wanted names of planes that are looked at, where not all were painted; one of those tiled alike is enough
 */
export function mergeTiles(
  map: MaterialMap,
  head: MapHead,
  fresh: MaterialMap['planes'],
  tiles: readonly number[],
  wanted: ReadonlySet<string> | null = null,
): { readonly map: MaterialMap; readonly dirty: ReadonlyMap<string, readonly number[]> } {
  const planes = new Map(map.planes)
  const store = new TileStore(planes, head)
  const painted = new TileStore(new Map(fresh), head)
  const dirty = new Map<string, number[]>()
  for (const group of store.groups.filter(names => wanted === null || names.some(name => wanted.has(name))))
    for (const tile of tiles) {
      const came = store.get(group[0]!, tile) === null
      for (const name of group) {
        const now = painted.get(name, tile)
        const before = came ? null : store.get(name, tile)
        if (now === null ? before === null : !came && same(now, before!)) continue
        const list = dirty.get(name) ?? []
        dirty.set(name, list)
        list.push(tile)
        if (now !== null) store.put(name, tile, now)
      }
      if (painted.get(group[0]!, tile) === null) store.put(group[0]!, tile, null)
    }
  return { map: { ...head, planes }, dirty }
}

function same(a: PlaneData, b: PlaneData): boolean {
  const words = [wordsOf(a), wordsOf(b)] as const
  const [one, other] = words[0].length === words[1].length ? words : [a, b]
  for (let i = 0; i < one.length; i++) if (one[i] !== other[i]) return false
  return true
}

/** The same bytes four at a time, where they lie so. */
function wordsOf(data: PlaneData): PlaneData | Int32Array {
  const { buffer, byteOffset, byteLength } = data
  return byteOffset % 4 === 0 && byteLength % 4 === 0
    ? new Int32Array(buffer, byteOffset, byteLength / 4)
    : data
}
