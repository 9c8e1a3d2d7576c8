import { BadInput, type Finding } from '../../base/finding.ts'
import type { PDFObject } from '../../base/pdf.ts'
import type { Matrix } from '../ink/mark.ts'
import { times } from '../ink/matrix.ts'
import type { InkPage, PageBox } from '../ink/page.ts'
import { asNumber, asNumbers, look, numberOf } from './objects.ts'
import type { PdfPage } from './pages.ts'

export interface PageFrame extends Pick<InkPage, 'widthMm' | 'heightMm' | 'boxes'> {
  /** Units of the page's content to page mm: lower left corner of the box that is read, turned, y up. */
  readonly matrix: Matrix
}

/**
 * The boxes of a page (ISO 32000-2, 14.11.2), turned and in mm. Read is its bleed box, else its trim box, else its media
 * box. A box without area, or outside the media box, is passed over with a finding.
 * @throws BadInput `page-no-area` where the media box is missing or has no area
 */
export function frameOf(file: string, number: number, page: PdfPage, findings: Finding[]): PageFrame {
  const where = `page ${number}`
  const media = rectOf(page.mediaBox)
  if (media === null)
    throw new BadInput(
      'page-no-area',
      file,
      where,
      page.mediaBox === undefined ? 'has no media box' : 'has a media box without area',
      'Export the art anew with its page size.',
    )
  const inside = (name: string, object: PDFObject | undefined): PageBox | null => {
    if (object === undefined) return null
    const box = rectOf(object)
    const cut = box === null ? null : overlap(box, media)
    if (cut === null)
      findings.push({
        severity: 'warning',
        code: 'page-box-empty',
        where: `${where}, ${name}`,
        message: 'The box has no area on the page; it is passed over.',
        fix: 'Set it anew where the art was made if trim or bleed lie wrong.',
      })
    return cut
  }
  const bleed = inside('BleedBox', look(page.dict, 'BleedBox'))
  const trim = inside('TrimBox', look(page.dict, 'TrimBox'))
  const crop = inside('CropBox', page.cropBox)
  const read = bleed ?? trim ?? media
  const unit = numberOf(page.dict, 'UserUnit') ?? 1
  const scale = ((unit > 0 && Number.isFinite(unit) ? unit : 1) * 25.4) / 72
  const quarters = quartersOf(asNumber(page.rotate) ?? 0)
  const matrix = turned(read, scale, quarters)
  const width = (read[2] - read[0]) * scale
  const height = (read[3] - read[1]) * scale
  const place = (box: PageBox | null): PageBox | null => (box === null ? null : placed(box, matrix))
  return {
    widthMm: quarters % 2 === 0 ? width : height,
    heightMm: quarters % 2 === 0 ? height : width,
    boxes: { media: placed(media, matrix), bleed: place(bleed), trim: place(trim), crop: place(crop) },
    matrix,
  }
}

/** Quarter turns clockwise, 0..3. */
const quartersOf = (degrees: number): number => (((Math.round(degrees / 90) % 4) + 4) % 4) | 0

/** Takes the lower left corner of `box`, as it is seen after it was turned clockwise, to (0, 0). */
function turned(box: PageBox, scale: number, quarters: number): Matrix {
  const [left, bottom, right, top] = box
  const toOrigin: Matrix = [scale, 0, 0, scale, -left * scale, -bottom * scale]
  const width = (right - left) * scale
  const height = (top - bottom) * scale
  const turns: readonly Matrix[] = [
    [1, 0, 0, 1, 0, 0],
    [0, -1, 1, 0, 0, width],
    [-1, 0, 0, -1, width, height],
    [0, 1, -1, 0, height, 0],
  ]
  return times(toOrigin, turns[quarters] ?? [1, 0, 0, 1, 0, 0])
}

/** Left, bottom, right, top; null without area. */
function rectOf(object: PDFObject | undefined): PageBox | null {
  const numbers = asNumbers(object)
  const [a, b, c, d] = numbers ?? []
  if (a === undefined || b === undefined || c === undefined || d === undefined) return null
  const box: PageBox = [Math.min(a, c), Math.min(b, d), Math.max(a, c), Math.max(b, d)]
  return box.every(Number.isFinite) && box[2] > box[0] && box[3] > box[1] ? box : null
}

function overlap(box: PageBox, other: PageBox): PageBox | null {
  const cut: PageBox = [
    Math.max(box[0], other[0]),
    Math.max(box[1], other[1]),
    Math.min(box[2], other[2]),
    Math.min(box[3], other[3]),
  ]
  return cut[2] > cut[0] && cut[3] > cut[1] ? cut : null
}

function placed([left, bottom, right, top]: PageBox, [a, b, c, d, e, f]: Matrix): PageBox {
  const xs = [a * left + c * bottom + e, a * right + c * top + e]
  const ys = [b * left + d * bottom + f, b * right + d * top + f]
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
}
