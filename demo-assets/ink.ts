import type { PsdLayer } from '../tests/support/psd-write.ts'
import { type Cover, height, width } from './page.ts'

/** Cyan, magenta, yellow, black; 1 = solid. */
export type Ink = readonly [number, number, number, number]

/** A layer of ink where `cover` lets it: its own alpha, in a box cut to what is painted. */
export function inkLayer(
  name: string,
  cover: Cover,
  ink: Ink | ((i: number) => Ink),
  how: Omit<PsdLayer, 'name' | 'box' | 'planes'> = {},
): PsdLayer {
  const box = painted(cover)
  const size = (box.right - box.left) * (box.bottom - box.top)
  const planes = [0, 1, 2, 3].map(() => new Uint8Array(size).fill(255))
  const alpha = new Uint8Array(size)
  for (let y = box.top, at = 0; y < box.bottom; y++)
    for (let x = box.left; x < box.right; x++, at++) {
      const i = y * width + x
      alpha[at] = Math.round(cover[i]! * 255)
      if (alpha[at] === 0) continue
      const here = typeof ink === 'function' ? ink(i) : ink
      for (let p = 0; p < 4; p++) planes[p]![at] = stored(here[p]!)
    }
  return {
    name,
    box,
    planes: { [-1]: alpha, 0: planes[0]!, 1: planes[1]!, 2: planes[2]!, 3: planes[3]! },
    ...how,
  }
}

/** Ink amount as the file stores it: 255 is none. */
export const stored = (ink: number): number => 255 - Math.round(Math.min(1, Math.max(0, ink)) * 255)

function painted(cover: Cover) {
  const box = { left: width, top: height, right: 0, bottom: 0 }
  cover.forEach((share, i) => {
    if (share < 0.5 / 255) return
    const [x, y] = [i % width, Math.floor(i / width)]
    box.left = Math.min(box.left, x)
    box.right = Math.max(box.right, x + 1)
    box.top = Math.min(box.top, y)
    box.bottom = y + 1
  })
  if (box.right <= box.left)
    throw new RangeError('inkLayer: expected a shape on the page, got nothing painted')
  return box
}
