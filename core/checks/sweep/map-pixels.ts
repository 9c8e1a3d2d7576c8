import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import type { BoxMm } from '../finding.ts'

/** Pixels of a map, each as row · width + column. */
export type MapPixels = Uint32Array

/** Pixels whose middles lie in a box; none where it lies beside the map. */
export function pixelsInBox(map: MaterialMap, box: BoxMm): MapPixels {
  const { width, height, widthMm, heightMm } = map
  const within = (value: number, most: number) => Math.min(most, Math.max(0, Math.round(value)))
  const left = within((box.leftMm / widthMm) * width, width)
  const right = within((box.rightMm / widthMm) * width, width)
  const top = within((1 - box.topMm / heightMm) * height, height)
  const bottom = within((1 - box.bottomMm / heightMm) * height, height)
  const columns = Math.max(0, right - left)
  const pixels = new Uint32Array(columns * Math.max(0, bottom - top))
  let i = 0
  for (let row = top; row < bottom; row++)
    for (let column = left; column < right; column++) pixels[i++] = row * width + column
  return pixels
}

/** Pixels of each area of a map, by its id; an area without pixels is left out, and so is all that has none (id 0). */
export function pixelsOfAreas(map: MaterialMap): ReadonlyMap<number, MapPixels> {
  const { width, height } = map
  const ids = new PlaneReader(map.planes.get('area'), width)
  const counts = new Map<number, number>()
  const each = (visit: (id: number, pixel: number) => void): void => {
    for (let row = 0; row < height; row++)
      for (let column = 0; column < width; column++) {
        const at = ids.at(column, row)
        const id = at < 0 ? 0 : ids.data[at]!
        if (id > 0) visit(id, row * width + column)
      }
  }
  each(id => counts.set(id, (counts.get(id) ?? 0) + 1))
  const lists = new Map([...counts].map(([id, count]) => [id, { pixels: new Uint32Array(count), used: 0 }]))
  each((id, pixel) => {
    const list = lists.get(id)!
    list.pixels[list.used++] = pixel
  })
  return new Map([...lists].map(([id, { pixels }]) => [id, pixels]))
}

/** Every pixel of a map. */
export function allPixels({ width, height }: Pick<MaterialMap, 'width' | 'height'>): MapPixels {
  const pixels = new Uint32Array(width * height)
  for (let i = 0; i < pixels.length; i++) pixels[i] = i
  return pixels
}

/** The box around pixels, their outer edges; null around none. */
export function boxAround(map: MaterialMap, pixels: MapPixels): BoxMm | null {
  if (pixels.length === 0) return null
  const { width, height, widthMm, heightMm } = map
  let [left, right, top, bottom] = [width, 0, height, 0]
  for (const pixel of pixels) {
    const column = pixel % width
    const row = (pixel - column) / width
    left = Math.min(left, column)
    right = Math.max(right, column + 1)
    top = Math.min(top, row)
    bottom = Math.max(bottom, row + 1)
  }
  return {
    leftMm: (left / width) * widthMm,
    rightMm: (right / width) * widthMm,
    topMm: (1 - top / height) * heightMm,
    bottomMm: (1 - bottom / height) * heightMm,
  }
}
