import { boxWidth } from './box.ts'
import type { ArtFile, Box, Plane, Rows } from './layer.ts'

/** Planes of one file, kept while they fit in a budget, so that strips do not decode them anew. */
export interface PlaneStore {
  /** One channel of a layer, or null. */
  layer(id: string, channel: number, rows: Rows): Promise<Plane | null>
  mask(id: string): Promise<Plane | null>
}

/**
 * Strips ask for the same planes in the same order again and again; so what is kept stays, and what no longer fits is
 * not kept at all: throwing out the oldest would throw out each plane just before it is asked for.
 * @param budget  bytes kept at most
 */
export function planeStore(file: ArtFile, budget: number): PlaneStore {
  const kept = new Map<
    string,
    { readonly plane: Plane | null; readonly rows: Rows; readonly bytes: number }
  >()
  let bytes = 0
  const get = async (key: string, rows: Rows, read: () => Promise<Plane | null>): Promise<Plane | null> => {
    const old = kept.get(key)
    if (old && old.rows.top <= rows.top && old.rows.bottom >= rows.bottom) return old.plane
    if (old) bytes -= old.bytes
    kept.delete(key)
    const plane = await read()
    const size = plane?.data.buffer.byteLength ?? 0
    if (bytes + size > budget) return plane
    bytes += size
    kept.set(key, { plane, rows: plane ? covered(plane, rows) : everything, bytes: size })
    return plane
  }
  return {
    layer: (id, channel, rows) => get(`${id} ${channel}`, rows, () => file.layerPlane(id, channel, rows)),
    mask: id => get(`${id} mask`, everything, () => file.maskPlane(id)),
  }
}

const everything: Rows = { top: Number.NEGATIVE_INFINITY, bottom: Number.POSITIVE_INFINITY }

/** The plane answers for the rows asked for and for all that it holds. */
const covered = (plane: Plane, rows: Rows): Rows => ({
  top: Math.min(rows.top, plane.box.top),
  bottom: Math.max(rows.bottom, plane.box.bottom),
})

/**
 * Samples of a plane over `box`, as 0..1 of the number format's range; `outside` where the plane has none.
 * @param out   zeros that they are written to; left out: an array of their own
 * @param where samples are wanted, over the same box: elsewhere, where it is 0, they stay 0; left out: everywhere
 */
export function samplesOver(
  plane: Plane,
  box: Box,
  outside: number,
  out: Float32Array = new Float32Array(boxWidth(box) * Math.max(0, box.bottom - box.top)),
  where: Float32Array | null = null,
): Float32Array {
  const width = boxWidth(box)
  if (outside !== 0) out.fill(outside)
  const k = plane.data instanceof Uint8Array ? 1 / 255 : plane.data instanceof Uint16Array ? 1 / 65535 : 1
  const stride = boxWidth(plane.box)
  const left = Math.max(box.left, plane.box.left)
  const right = Math.min(box.right, plane.box.right)
  for (let y = Math.max(box.top, plane.box.top); y < Math.min(box.bottom, plane.box.bottom); y++) {
    let at = (y - box.top) * width + left - box.left
    let from = (y - plane.box.top) * stride + left - plane.box.left
    if (where === null) for (let x = left; x < right; x++) out[at++] = plane.data[from++]! * k
    else for (let x = left; x < right; x++, at++, from++) if (where[at] !== 0) out[at] = plane.data[from]! * k
  }
  return out
}
