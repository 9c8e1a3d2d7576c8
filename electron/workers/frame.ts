import type { MaterialMap } from '../../core/material/map.ts'
import { type Baking, bakeTables } from '../../core/optics/bake.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { displayPicture } from '../../core/reference/display-picture.ts'
import { type PictureSize, renderTile, type Tile } from '../../core/reference/render.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { serveWork } from '../worker-side.ts'

/** What all frames of a job share. */
export interface FrameGround {
  /** The map and its smaller levels; planes in shared memory. */
  readonly pyramid: readonly MaterialMap[]
  /** One a spectrum of the job's lamps. */
  readonly bakings: readonly Baking[]
}

/** Rows of one frame. */
export interface FrameRows {
  readonly scene: Scene
  readonly size: PictureSize
  readonly tile: Tile
}

export type FrameCrafts = {
  ground: { input: FrameGround; value: null }
  /** Screen values, RGB, 8 bits, row by row. */
  rows: { input: FrameRows; value: Uint8Array<ArrayBuffer> }
}

let ground: { readonly pyramid: readonly MaterialMap[]; readonly tables: readonly Tables[] } | null = null

serveWork<FrameCrafts>({
  async ground({ pyramid, bakings }) {
    ground = { pyramid, tables: bakings.map(bakeTables) }
    return { value: null }
  },
  async rows({ scene, size, tile }) {
    if (ground === null) throw new Error('rows were asked for before the map came')
    const light = renderTile(scene, ground.pyramid, ground.tables, size, tile)
    const rgb = Uint8Array.from(displayPicture(light, scene, 8))
    return { value: rgb, transfer: [rgb.buffer] }
  },
})
