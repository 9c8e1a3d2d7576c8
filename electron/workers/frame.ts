import { type GifFrame, gifFrame } from '../../core/base/gif.ts'
import type { PngPicture } from '../../core/base/png.ts'
import { type PngColor, writePng } from '../../core/export/png.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { type Baking, bakeTables } from '../../core/optics/bake.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { type Background, displayPicture } from '../../core/reference/display-picture.ts'
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

export interface FrameStyle extends PictureSize {
  /** Bits a component. */
  readonly depth: 8 | 16
  readonly background: Background
}

/** Rows of one frame. */
export interface FrameRows {
  readonly scene: Scene
  readonly style: FrameStyle
  readonly tile: Tile
}

export type Packing =
  | { readonly kind: 'png'; readonly color: PngColor }
  | ({ readonly kind: 'gif' } & Omit<GifFrame, 'picture'>)

export type FrameCrafts = {
  ground: { input: FrameGround; value: null }
  /** Screen values, RGB or RGBA, row by row. */
  rows: { input: FrameRows; value: Uint8Array<ArrayBuffer> | Uint16Array<ArrayBuffer> }
  /** A whole frame as bytes of a file. */
  pack: { input: { readonly picture: PngPicture; readonly as: Packing }; value: Uint8Array<ArrayBuffer> }
}

let ground: { readonly pyramid: readonly MaterialMap[]; readonly tables: readonly Tables[] } | null = null

serveWork<FrameCrafts>({
  async ground({ pyramid, bakings }) {
    ground = { pyramid, tables: bakings.map(bakeTables) }
    return { value: null }
  },
  async rows({ scene, style, tile }) {
    if (ground === null) throw new Error('rows were asked for before the map came')
    const light = renderTile(scene, ground.pyramid, ground.tables, style, tile)
    const codes = displayPicture(light, scene, style.depth, style.background)
    return { value: codes, transfer: [codes.buffer] }
  },
  async pack({ picture, as }) {
    const bytes = as.kind === 'png' ? writePng(picture, as.color) : gifFrame({ ...as, picture })
    return { value: bytes, transfer: [bytes.buffer] }
  },
})
