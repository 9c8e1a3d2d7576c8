import type { Finding } from '../../base/finding.ts'
import type { XmlElement } from '../../base/xml.ts'
import type { Matrix } from '../path.ts'
import { type LengthUnit, lengthOf, unitMm } from './length.ts'

/** The window that the drawing is seen through, and how its units become millimetres. */
export interface View {
  readonly widthMm: number
  readonly heightMm: number
  readonly matrix: Matrix
  /** Width and height of the page in the drawing's units. */
  readonly size: readonly [number, number]
  /** How many millimetres one unit is, and how that is known. */
  readonly scale: { readonly mm: number; readonly from: 'stated' | 'assumed' | 'given' }
  readonly findings: readonly Finding[]
}

/** @param unit what one unit is, where the user knows better than the file */
export function viewOf(root: XmlElement, unit?: LengthUnit): View {
  const width = lengthOf(root.attributes.width)
  const height = lengthOf(root.attributes.height)
  const box = viewBoxOf(root)
  const mmOf = (length: typeof width) =>
    length === null || length.unit === '%' || !(length.value > 0)
      ? null
      : length.value * (length.unit === '' ? unitMm.px : unitMm[length.unit])
  const isReal = (length: typeof width) => length !== null && !['', '%', 'px'].includes(length.unit)
  const [w, h] = [mmOf(width), mmOf(height)]
  const ratios = box === null ? [] : [w === null ? null : w / box[2], h === null ? null : h / box[3]]
  const fits = ratios.filter(one => one !== null)
  // The picture is fitted into the page whole, or covers it, or is pulled to it in each direction.
  const kept = root.attributes.preserveAspectRatio ?? ''
  const both = fits.length === 0 ? unitMm.px : (/slice/.test(kept) ? Math.max : Math.min)(...fits)
  const pulled = /none/.test(kept) && fits.length === 2
  const sx = unit !== undefined ? unitMm[unit] : pulled ? fits[0]! : both
  const sy = unit !== undefined ? unitMm[unit] : pulled ? fits[1]! : both
  // Without a viewBox the unit is CSS's px, whatever the page measures.
  const stated = box !== null && (isReal(width) || isReal(height))
  const [left, top, across, down] = box ?? [0, 0, (w ?? 0) / unitMm.px, (h ?? 0) / unitMm.px]
  const from = unit !== undefined ? 'given' : stated ? 'stated' : 'assumed'
  return {
    widthMm: across * sx,
    heightMm: down * sy,
    matrix: [sx, 0, 0, -sy, -left * sx, (top + down) * sy],
    size: [across, down],
    scale: { mm: sx, from },
    findings:
      from !== 'assumed'
        ? []
        : [
            {
              severity: 'warning',
              code: 'unit-assumed',
              where: 'the drawing',
              message:
                'it does not say how long its unit is; 96 units are taken for an inch (1 unit = 0.2646 mm)',
              fix: 'If sizes come out wrong, say the unit (mm, cm, in, pt or px), or save with width and height in mm and a viewBox.',
            },
          ],
  }
}

export function viewBoxOf({ attributes }: XmlElement): readonly [number, number, number, number] | null {
  const [x, y, width, height, ...more] = (attributes.viewBox ?? '')
    .trim()
    .split(/[\s,]+/)
    .map(Number)
  if (![x, y, width, height].every(Number.isFinite) || more.length > 0) return null
  return width! > 0 && height! > 0 ? [x!, y!, width!, height!] : null
}
