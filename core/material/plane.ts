import type { MapPlane, PlaneData } from './map.ts'

/** Reads one plane of a map at any pixel without knowing how it is laid out. A missing plane is zero throughout. */
export class PlaneReader {
  readonly data: PlaneData
  readonly components: number
  readonly #width: number
  readonly #shift: number
  readonly #tilesX: number
  readonly #index: Int32Array | null

  constructor(plane: MapPlane | undefined, width: number) {
    this.data = plane?.data ?? new Uint8Array(0)
    this.components = plane?.components ?? 1
    this.#width = plane === undefined ? -1 : width
    const tile = plane?.layout === 'tiles' ? plane.tile : 1
    this.#shift = 31 - Math.clz32(tile)
    this.#tilesX = Math.ceil(width / tile)
    this.#index = plane?.layout === 'tiles' ? plane.index : null
  }

  /** Place in `data` of the first component at pixel (x, y), which lies inside the map; -1 where the plane is zero. */
  at(x: number, y: number): number {
    if (this.#index === null) return this.#width < 0 ? -1 : (y * this.#width + x) * this.components
    const shift = this.#shift
    const block = this.#index[(y >> shift) * this.#tilesX + (x >> shift)]!
    if (block < 0) return -1
    const inside = (1 << shift) - 1
    return ((((block << shift) + (y & inside)) << shift) + (x & inside)) * this.components
  }
}
