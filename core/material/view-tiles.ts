import type { Box } from '../art/layer.ts'
import type { MapPlane, MaterialMap } from './map.ts'
import { PlaneReader } from './plane.ts'
import type { Spans } from './spans.ts'
import { evenly, tileSide } from './tiles.ts'
import { viewBytes, viewSetPlane, viewsPlane } from './views.ts'

const tilePixels = tileSide * tileSide

/** The views of a map while they are written; tiles come into being where one shines. */
export class ViewTiles {
  readonly #index: Int32Array
  readonly #perRow: number
  readonly #blocks: { readonly ids: Uint8Array; readonly views: Uint8Array }[] = []

  /** @param bytes a pixel, see `viewBytes` */
  constructor(
    width: number,
    height: number,
    readonly bytes: number,
  ) {
    this.#perRow = Math.ceil(width / tileSide)
    this.#index = new Int32Array(this.#perRow * Math.ceil(height / tileSide)).fill(-1)
  }

  /**
   * Stores how much each view shines at a pixel, 0..1.
   * @param id number of the set, from 1
   */
  set(x: number, y: number, id: number, shines: Float64Array, count: number): void {
    let any = false
    for (let i = 0; i < count; i++) if (evenly(Math.min(1, shines[i]!) * 255, x, y) > 0) any = true
    if (!any) return
    const tile = Math.floor(y / tileSide) * this.#perRow + Math.floor(x / tileSide)
    if (this.#index[tile]! < 0) {
      this.#index[tile] = this.#blocks.length
      this.#blocks.push({ ids: new Uint8Array(tilePixels), views: new Uint8Array(tilePixels * this.bytes) })
    }
    const { ids, views } = this.#blocks[this.#index[tile]!]!
    const pixel = (y % tileSide) * tileSide + (x % tileSide)
    ids[pixel] = id
    for (let i = 0; i < count; i++)
      views[pixel * this.bytes + i] = evenly(Math.min(1, shines[i]!) * 255, x, y)
  }

  /** Both planes; they share one tile index. */
  finish(): readonly (readonly [string, MapPlane])[] {
    const ids = new Uint8Array(this.#blocks.length * tilePixels)
    const views = new Uint8Array(this.#blocks.length * tilePixels * this.bytes)
    this.#blocks.forEach((block, i) => {
      ids.set(block.ids, i * tilePixels)
      views.set(block.views, i * tilePixels * this.bytes)
    })
    const tiled = { layout: 'tiles', tile: tileSide, index: this.#index } as const
    return [
      [viewSetPlane, { ...tiled, components: 1, data: ids }],
      [viewsPlane, { ...tiled, components: this.bytes, data: views }],
    ]
  }
}

/**
 * The views of a coarser map: mean bytes; where two sets meet the heavier stays.
 * @param boxes coarse pixels that are wanted
 */
export function halfViews(
  map: MaterialMap,
  columns: Spans,
  rows: Spans,
  boxes: readonly Box[],
): readonly (readonly [string, MapPlane])[] {
  const sets = map.viewSets ?? []
  if (sets.length === 0) return []
  const ids = new PlaneReader(map.planes.get(viewSetPlane), map.width)
  const views = new PlaneReader(map.planes.get(viewsPlane), map.width)
  const tiles = new ViewTiles(columns.size, rows.size, viewBytes(sets))
  const sums = new Float64Array(viewBytes(sets))
  const weights = new Float64Array(sets.length + 1)
  for (const { left, top, right, bottom } of boxes)
    for (let y = top; y < bottom; y++) for (let x = left; x < right; x++) mean(x, y)
  return tiles.finish()

  function mean(x: number, y: number): void {
    weights.fill(0)
    each(x, y, (id, at, area) => {
      for (let i = 0; i < sets[id - 1]!.channels.length; i++) weights[id]! += area * views.data[at + i]!
    })
    const heaviest = weights.indexOf(Math.max(...weights))
    if (heaviest <= 0) return
    sums.fill(0)
    const count = sets[heaviest - 1]!.channels.length
    each(x, y, (id, at, area) => {
      if (id === heaviest) for (let i = 0; i < count; i++) sums[i]! += (area * views.data[at + i]!) / 255
    })
    tiles.set(x, y, heaviest, sums, count)
  }

  function each(x: number, y: number, put: (id: number, at: number, area: number) => void): void {
    for (let j = 0; j < rows.count[y]!; j++)
      for (let i = 0; i < columns.count[x]!; i++) {
        const at = ids.at(columns.start[x]! + i, rows.start[y]! + j)
        if (at < 0 || ids.data[at] === 0) continue
        const area = rows.weights[y * rows.most + j]! * columns.weights[x * columns.most + i]!
        put(ids.data[at]!, views.at(columns.start[x]! + i, rows.start[y]! + j), area)
      }
  }
}
