import type { XmlElement } from '../../base/xml.ts'
import type { Matrix } from '../path.ts'
import { viewBoxOf } from './view.ts'

/**
 * The window of a viewBox into a box of this size at the origin: its matrix, and what it is wide and high.
 * Source: SVG 1.1, section 7.8 (meet and slice, x and y alignment).
 */
export function windowOf(
  element: XmlElement,
  width: number,
  height: number,
): { readonly matrix: Matrix; readonly view: readonly [number, number] } {
  const box = viewBoxOf(element)
  if (box === null) return { matrix: [1, 0, 0, 1, 0, 0], view: [width, height] }
  return {
    matrix: fitted(box, width, height, element.attributes.preserveAspectRatio),
    view: [box[2], box[3]],
  }
}

/** A box of units laid into another of width × height at the origin. */
export function fitted(
  [left, top, across, down]: readonly [number, number, number, number],
  width: number,
  height: number,
  keep = '',
): Matrix {
  const [x, y] = [width / across, height / down]
  const both = /slice/.test(keep) ? Math.max(x, y) : Math.min(x, y)
  const [sx, sy] = /none/.test(keep) ? [x, y] : [both, both]
  const share = (axis: string) => {
    const word = new RegExp(`${axis}(Min|Mid|Max)`).exec(keep)?.[1]
    return word === 'Min' ? 0 : word === 'Max' ? 1 : 0.5
  }
  return [
    sx,
    0,
    0,
    sy,
    share('x') * (width - across * sx) - left * sx,
    share('Y') * (height - down * sy) - top * sy,
  ]
}
