import type { MapPlane, PlaneData } from './map.ts'
import type { MapHead } from './map-head.ts'
import { TileGrid, tileSide } from './tiles.ts'
import { viewBytes, viewSetPlane, viewsPlane } from './views.ts'

const tilePixels = tileSide * tileSide

/**
 * The planes of holography of one level, tile by tile, to be written over in place. Tiles come into being and go where
 * they are asked to; planes that are tiled alike keep one index.
 */
export class TileStore {
  readonly grid: TileGrid
  readonly #planes: Map<string, MapPlane>
  readonly #groups = new Map<string, TileGroup>()

  /**
   * @param planes of the level; those of holography that the head does not name any more are taken out, new ones put in
   * @param head   of the level
   */
  constructor(planes: Map<string, MapPlane>, head: MapHead) {
    this.#planes = planes
    this.grid = new TileGrid(head.width, head.height)
    const wanted = groupsOf(head)
    const named = new Set(wanted.flatMap(group => group.map(({ name }) => name)))
    for (const [name, plane] of planes) if (plane.layout === 'tiles' && !named.has(name)) planes.delete(name)
    for (const group of wanted) {
      if (group.some(({ name, components }) => planes.get(name)?.components !== components)) this.#add(group)
      const names = group.map(({ name }) => name)
      const tiles = new TileGroup(planes, names)
      for (const name of names) this.#groups.set(name, tiles)
    }
  }

  /** Names of the planes, those of a tile that come and go together in one list. */
  get groups(): readonly (readonly string[])[] {
    const full = this.#planes.has('area') ? [['area']] : []
    return [...full, ...new Set(this.#groups.values())].map(group =>
      group instanceof TileGroup ? group.names : group,
    )
  }

  /** What a plane has in a tile, row by row, components side by side; null where the tile is not there. */
  get(name: string, tile: number): PlaneData | null {
    const group = this.#groups.get(name)
    return group ? group.get(name, tile) : cut(this.#plane(name), this.grid, tile)
  }

  /** Writes a tile as `get` gives it; null takes it away, with those of the planes tiled alike. */
  put(name: string, tile: number, data: PlaneData | null): void {
    const group = this.#groups.get(name)
    if (!group) {
      if (data) paste(this.#plane(name), this.grid, tile, data)
    } else if (data === null) group.drop(tile)
    else group.put(name, tile, data)
  }

  /** Samples of a tile of a plane. */
  length(name: string, tile: number): number {
    if (this.#groups.has(name)) return tilePixels * this.#plane(name).components
    const { left, top, right, bottom } = this.grid.box(tile)
    return (right - left) * (bottom - top) * this.#plane(name).components
  }

  components(name: string): number {
    return this.#plane(name).components
  }

  /** An array of a plane's own kind. */
  array(name: string, length: number): PlaneData {
    return emptyLike(this.#plane(name).data, length)
  }

  #plane(name: string): MapPlane {
    const plane = this.#planes.get(name)
    if (plane === undefined) throw new RangeError(`plane "${name}": expected it in the map, got none`)
    return plane
  }

  #add(group: readonly PlaneKind[]): void {
    const index = new Int32Array(this.grid.count).fill(-1)
    for (const { name, components, data } of group)
      this.#planes.set(name, { layout: 'tiles', tile: tileSide, components, index, data: data() })
  }
}

interface PlaneKind {
  readonly name: string
  readonly components: number
  readonly data: () => PlaneData
}

const bytes = () => new Uint8Array(0)

function groupsOf({ gratings, viewSets = [] }: MapHead): readonly (readonly PlaneKind[])[] {
  const views: readonly PlaneKind[] = [
    { name: viewSetPlane, components: 1, data: bytes },
    { name: viewsPlane, components: viewBytes(viewSets), data: bytes },
  ]
  return [
    ...gratings.map(({ kappa, spread, relief }): readonly PlaneKind[] => [
      { name: kappa, components: 2, data: () => new Int16Array(0) },
      { name: spread, components: 2, data: () => new Uint16Array(0) },
      { name: relief, components: 4, data: bytes },
    ]),
    ...(viewSets.length > 0 ? [views] : []),
  ]
}

/** Planes that are tiled alike. */
class TileGroup {
  readonly #planes: Map<string, MapPlane>
  readonly #free: number[] = []

  constructor(
    planes: Map<string, MapPlane>,
    readonly names: readonly string[],
  ) {
    this.#planes = planes
    const { index } = this.#tiled(names[0]!)
    const used = new Set(index)
    for (let block = this.#blocks - 1; block >= 0; block--) if (!used.has(block)) this.#free.push(block)
  }

  get(name: string, tile: number): PlaneData | null {
    const { index, data, components } = this.#tiled(name)
    const block = index[tile]!
    const size = tilePixels * components
    return block < 0 ? null : data.subarray(block * size, (block + 1) * size)
  }

  put(name: string, tile: number, data: PlaneData): void {
    if (this.#tiled(name).index[tile]! < 0) this.#take(tile)
    this.get(name, tile)!.set(data)
  }

  drop(tile: number): void {
    const block = this.#tiled(this.names[0]!).index[tile]!
    if (block < 0) return
    this.#free.push(block)
    for (const name of this.names) this.#tiled(name).index[tile] = -1
  }

  #take(tile: number): void {
    if (this.#free.length === 0) this.#grow()
    const block = this.#free.pop()!
    for (const name of this.names) {
      const { index, data, components } = this.#tiled(name)
      index[tile] = block
      data.fill(0, block * tilePixels * components, (block + 1) * tilePixels * components)
    }
  }

  #grow(): void {
    const before = this.#blocks
    const more = Math.max(16, before >> 2)
    for (const name of this.names) {
      const plane = this.#tiled(name)
      const data = emptyLike(plane.data, (before + more) * tilePixels * plane.components)
      data.set(plane.data)
      this.#planes.set(name, { ...plane, data })
    }
    for (let block = before + more - 1; block >= before; block--) this.#free.push(block)
  }

  get #blocks(): number {
    const { data, components } = this.#tiled(this.names[0]!)
    return data.length / (tilePixels * components)
  }

  #tiled(name: string) {
    const plane = this.#planes.get(name)
    if (plane?.layout !== 'tiles') throw new RangeError(`plane "${name}": expected tiles`)
    return plane
  }
}

function emptyLike(data: PlaneData, length: number): PlaneData {
  if (data instanceof Uint8Array) return new Uint8Array(length)
  return data instanceof Uint16Array ? new Uint16Array(length) : new Int16Array(length)
}

function cut({ data, components }: MapPlane, grid: TileGrid, tile: number): PlaneData {
  const { left, top, right, bottom } = grid.box(tile)
  const line = (right - left) * components
  const out = emptyLike(data, line * (bottom - top))
  for (let y = top; y < bottom; y++) {
    const from = (y * grid.width + left) * components
    out.set(data.subarray(from, from + line), (y - top) * line)
  }
  return out
}

function paste({ data, components }: MapPlane, grid: TileGrid, tile: number, from: PlaneData): void {
  const { left, top, right, bottom } = grid.box(tile)
  const line = (right - left) * components
  for (let y = top; y < bottom; y++)
    data.set(from.subarray((y - top) * line, (y - top + 1) * line), (y * grid.width + left) * components)
}
