import type { OutlinePath } from '../core/art/layer.ts'
import { addText, type Line } from './lettering.ts'
import { addShape, blank, type Cover, heightMm, type Point, widthMm } from './page.ts'

/** Thumb notch in the upper edge, mm. */
export const notch = { x: widthMm / 2, r: 6.5 }

export function dieline(): Cover {
  const cover = blank()
  addShape(cover, [0, 0, widthMm, heightMm], (x, y) => {
    const edge = Math.min(x, y, widthMm - x, heightMm - y)
    const arc = Math.hypot(x - notch.x, y - heightMm) - notch.r
    return Math.min(Math.max(edge, -arc), Math.abs(arc)) - 0.18
  })
  return cover
}

/** The panel's cutting outline. */
export function cutPath(): OutlinePath {
  const h = (4 / 3) * Math.tan(Math.PI / 8) * notch.r
  const [x0, x1, top] = [notch.x - notch.r, notch.x + notch.r, heightMm]
  const corner = (at: Point) => ({ in: at, at, out: at })
  return {
    closed: true,
    continues: false,
    combine: 'unite',
    knots: [
      corner([0, 0]),
      corner([widthMm, 0]),
      corner([widthMm, top]),
      { in: [x1, top], at: [x1, top], out: [x1, top - h] },
      { in: [notch.x + h, top - notch.r], at: [notch.x, top - notch.r], out: [notch.x - h, top - notch.r] },
      { in: [x0, top - h], at: [x0, top], out: [x0, top] },
      corner([0, top]),
    ],
  }
}

export function legend(): Cover {
  const cover = blank()
  addText(cover, legendLine)
  return cover
}

export const legendLine: Line = {
  text: 'HOS EP12 front panel 100 × 150 mm, metallised board, grain upright',
  face: 'small',
  size: 1.5,
  at: [8, 1.5],
  tracking: 0.03,
}

export function circlePath([x, y]: Point, r: number): OutlinePath {
  const h = (4 / 3) * Math.tan(Math.PI / 8) * r
  const knot = (dx: number, dy: number) => ({
    in: [x + dx * r + dy * h, y + dy * r - dx * h] as const,
    at: [x + dx * r, y + dy * r] as const,
    out: [x + dx * r - dy * h, y + dy * r + dx * h] as const,
  })
  return {
    closed: true,
    continues: false,
    combine: 'unite',
    knots: [knot(1, 0), knot(0, 1), knot(-1, 0), knot(0, -1)],
  }
}

export function roundBoxPath(
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  r: number,
): OutlinePath {
  const h = r * (1 - (4 / 3) * Math.tan(Math.PI / 8))
  const turn = (from: Point, fromOut: Point, toIn: Point, to: Point) => [
    { in: from, at: from, out: fromOut },
    { in: toIn, at: to, out: to },
  ]
  return {
    closed: true,
    continues: false,
    combine: 'unite',
    knots: [
      ...turn([x1 - r, y0], [x1 - h, y0], [x1, y0 + h], [x1, y0 + r]),
      ...turn([x1, y1 - r], [x1, y1 - h], [x1 - h, y1], [x1 - r, y1]),
      ...turn([x0 + r, y1], [x0 + h, y1], [x0, y1 - h], [x0, y1 - r]),
      ...turn([x0, y0 + r], [x0, y0 + h], [x0 + h, y0], [x0 + r, y0]),
    ],
  }
}
