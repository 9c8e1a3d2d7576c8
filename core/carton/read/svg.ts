import { BadInput } from '../../base/finding.ts'
import { readXml, type XmlElement } from '../../base/xml.ts'
import type { DieFinding, Drawing, DrawnLine } from './drawing.ts'
import { linesOf } from './flatten.ts'
import { identity, type Matrix, times, transformOf } from './matrix.ts'
import { type LengthUnit, lengthOf, unitMm, unitsOf } from './svg-length.ts'
import { isShapeTag, shapeSteps } from './svg-shapes.ts'
import { initialStyle, type Sheet, type Style, sheetOf, styleOf } from './svg-style.ts'

export interface SvgOptions {
  /** What one unit of the drawing is, where the user knows better than the file. */
  readonly unit?: LengthUnit
}

/** How much a drawing may hold: a carton has hundreds of lines, a crowded sheet some ten thousand. */
const limits = { lines: 200_000, points: 2_000_000, visits: 500_000, useDepth: 16 }

/**
 * Lines of an SVG drawing in mm, with the names of the groups they lie in. Pictures, text, clips and scripts are not
 * read, and nothing outside the file is.
 * @param name  file name, for messages
 * @throws BadInput when the file is no SVG, is broken, or holds more than a drawing can
 */
export function readSvg(bytes: Uint8Array, name: string, options: SvgOptions = {}): Drawing {
  if (bytes[0] === 0x1f && bytes[1] === 0x8b)
    throw new BadInput(
      'not-svg',
      name,
      'byte 0',
      'this is a packed SVG',
      'Unpack it, or save it as plain SVG',
    )
  const root = readXml(bytes, name)
  const prefix = root.name.endsWith(':svg') ? root.name.slice(0, -3) : ''
  if (root.name !== `${prefix}svg`)
    throw new BadInput(
      'not-svg',
      name,
      `line ${root.line}`,
      `this is XML of another kind (<${root.name.slice(0, 40)}>)`,
      'Save the die as SVG',
    )
  const page = pageOf(root, options)
  const walk = new Walk(name, root, prefix, page.view)
  walk.members(root, { matrix: page.matrix, style: initialStyle, names: [], view: page.view, uses: [] })
  return {
    name,
    lines: walk.lines,
    widthMm: page.widthMm,
    heightMm: page.heightMm,
    scale: page.scale,
    findings: [...page.findings, ...walk.findings()],
  }
}

interface Page {
  readonly widthMm: number
  readonly heightMm: number
  readonly matrix: Matrix
  /** Width and height of the page in the drawing's units. */
  readonly view: readonly [number, number]
  readonly scale: Drawing['scale']
  readonly findings: readonly DieFinding[]
}

function pageOf(root: XmlElement, { unit }: SvgOptions): Page {
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
    view: [across, down],
    scale: { mm: sx, from },
    findings:
      from !== 'assumed'
        ? []
        : [
            {
              severity: 'warning',
              code: 'unit-assumed',
              where: 'the drawing',
              at: null,
              message:
                'it does not say how long its unit is; 96 units are taken for an inch (1 unit = 0.2646 mm)',
              fix: 'If sizes come out wrong, say the unit (mm, cm, in, pt or px), or save with width and height in mm and a viewBox.',
            },
          ],
  }
}

function viewBoxOf({ attributes }: XmlElement): readonly [number, number, number, number] | null {
  const [x, y, width, height, ...more] = (attributes.viewBox ?? '')
    .trim()
    .split(/[\s,]+/)
    .map(Number)
  if (![x, y, width, height].every(Number.isFinite) || more.length > 0) return null
  return width! > 0 && height! > 0 ? [x!, y!, width!, height!] : null
}

/** What an element takes from those around it. */
interface Around {
  readonly matrix: Matrix
  readonly style: Style
  readonly names: DrawnLine['names']
  readonly view: readonly [number, number]
  /** Ids of the elements being used, to stop those that use themselves. */
  readonly uses: readonly string[]
}

class Walk {
  readonly lines: DrawnLine[] = []
  private readonly byId = new Map<string, XmlElement>()
  private readonly sheet: Sheet
  private points = 0
  private visits = 0
  private readonly broken: { line: number; what: string }[] = []
  private readonly passed = { hidden: 0, pictures: 0, text: 0, uses: 0 }

  constructor(
    private readonly file: string,
    root: XmlElement,
    private readonly prefix: string,
    private readonly pageView: readonly [number, number],
  ) {
    const css: string[] = []
    const waiting = [root]
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      const { id } = next.attributes
      if (id !== undefined && !this.byId.has(id)) this.byId.set(id, next)
      if (this.tag(next) === 'style') css.push(next.text)
      for (const child of next.children) waiting.push(child)
    }
    this.sheet = sheetOf(css.join('\n'))
  }

  members(element: XmlElement, around: Around): void {
    for (const child of element.children) this.element(child, around)
  }

  private element(element: XmlElement, above: Around): void {
    if (++this.visits > limits.visits)
      throw new BadInput(
        'too-many-lines',
        this.file,
        `line ${element.line}`,
        'its parts are repeated without end',
        'Save only one die',
      )
    const tag = this.tag(element)
    if (tag === 'image') this.passed.pictures++
    if (tag === 'text') this.passed.text++
    const known = isShapeTag(tag) || ['g', 'a', 'switch', 'svg', 'use'].includes(tag)
    if (!known) return
    const style = styleOf(element, above.style, this.sheet, tag)
    const own = element.attributes.transform
    const turned = own === undefined ? identity : transformOf(own)
    if (turned === null) {
      this.broken.push({ line: element.line, what: 'its transform cannot be read' })
      return
    }
    const names = namesOf(element)
    const here: Around = {
      ...above,
      matrix: times(above.matrix, turned),
      style,
      names: names.length === 0 ? above.names : [names, ...above.names],
    }
    if (isShapeTag(tag)) this.shape(element, tag, here)
    else if (tag === 'use') this.use(element, here)
    else if (tag === 'svg') this.nested(element, here)
    else this.members(element, here)
  }

  private shape(
    element: XmlElement,
    tag: Parameters<typeof shapeSteps>[0],
    { matrix, style, ...around }: Around,
  ) {
    if (style.hidden) {
      this.passed.hidden++
      return
    }
    const { steps, mistake } = shapeSteps(tag, element.attributes, around.view)
    if (mistake !== null) this.broken.push({ line: element.line, what: mistake })
    const stroked = style.stroke !== 'none' && Number.parseFloat(style.strokeWidth) !== 0
    const shown = linesOf(steps, matrix)
    for (const points of shown) {
      this.points += points.length
      if (this.lines.length >= limits.lines || this.points > limits.points)
        throw new BadInput(
          'too-many-lines',
          this.file,
          `line ${element.line}`,
          `there are more than ${limits.lines} lines or ${limits.points} corners`,
          'Save only the die, without the rest of the artwork',
        )
      this.lines.push({
        points,
        names: around.names,
        color: stroked ? style.stroke : style.fill === 'none' ? null : style.fill,
        dashed: stroked && style.dashed,
        filled: !stroked,
      })
    }
    if (steps.length > 1 && shown.length === 0 && mistake === null)
      this.broken.push({ line: element.line, what: 'its numbers are no place on a sheet' })
  }

  private use(element: XmlElement, around: Around): void {
    const target = (element.attributes.href ?? element.attributes['xlink:href'] ?? '').trim()
    const used = target.startsWith('#') ? this.byId.get(target.slice(1)) : undefined
    if (used === undefined || around.uses.includes(target) || around.uses.length >= limits.useDepth) {
      this.passed.uses++
      return
    }
    const [x, y] = [
      unitsOf(element.attributes.x, around.view[0]),
      unitsOf(element.attributes.y, around.view[1]),
    ]
    const here = {
      ...around,
      matrix: times(around.matrix, [1, 0, 0, 1, x, y]),
      uses: [...around.uses, target],
    }
    if (this.tag(used) !== 'symbol') {
      this.element(used, here)
      return
    }
    const style = styleOf(used, here.style, this.sheet, 'symbol')
    this.nested({ ...used, attributes: { ...used.attributes, ...sizeOf(element) } }, { ...here, style })
  }

  /** A drawing within the drawing: its own window and units. */
  private nested(element: XmlElement, around: Around): void {
    const [x, y] = [
      unitsOf(element.attributes.x, around.view[0]),
      unitsOf(element.attributes.y, around.view[1]),
    ]
    const width = unitsOf(element.attributes.width ?? '100%', around.view[0], this.pageView[0])
    const height = unitsOf(element.attributes.height ?? '100%', around.view[1], this.pageView[1])
    const box = viewBoxOf(element)
    const moved = times(around.matrix, [1, 0, 0, 1, x, y])
    if (box === null) {
      this.members(element, { ...around, matrix: moved, view: [width, height] })
      return
    }
    const [left, top, across, down] = box
    const pulled = /none/.test(element.attributes.preserveAspectRatio ?? '')
    const both = Math.min(width / across, height / down)
    const [sx, sy] = pulled ? [width / across, height / down] : [both, both]
    const middle: Matrix = [
      sx,
      0,
      0,
      sy,
      (width - across * sx) / 2 - left * sx,
      (height - down * sy) / 2 - top * sy,
    ]
    this.members(element, { ...around, matrix: times(moved, middle), view: [across, down] })
  }

  findings(): readonly DieFinding[] {
    const { hidden, pictures, text, uses } = this.passed
    const note = (code: string, message: string, fix: string): DieFinding => ({
      severity: 'note',
      code,
      where: 'the drawing',
      at: null,
      message,
      fix,
    })
    const [first, ...others] = this.broken
    return [
      ...(first === undefined
        ? []
        : [
            {
              severity: 'warning',
              code: 'shape-broken',
              where: `line ${first.line} of the file`,
              at: null,
              message: `a shape is drawn only as far as it can be read: ${first.what}${others.length > 0 ? `; ${others.length} more like it` : ''}`,
              fix: 'Draw the shape again, or save the drawing again as plain SVG.',
            } as const,
          ]),
      ...(hidden > 0
        ? [
            note(
              'lines-hidden',
              `${hidden} hidden shapes are left out`,
              'Show them in the drawing if they belong to the die.',
            ),
          ]
        : []),
      ...(pictures > 0
        ? [
            note(
              'pictures-left-out',
              `${pictures} pictures are left out: a die is made of lines`,
              'Nothing, if the die is drawn.',
            ),
          ]
        : []),
      ...(text > 0 ? [note('text-left-out', `${text} pieces of text are left out`, 'Nothing.')] : []),
      ...(uses > 0
        ? [
            note(
              'uses-left-out',
              `${uses} repeated parts are left out: what they repeat is not in the file`,
              'Expand symbols before saving.',
            ),
          ]
        : []),
    ]
  }

  /** Name of an element of SVG; of another language, empty. */
  private tag(element: XmlElement): string {
    if (!element.name.startsWith(this.prefix)) return ''
    const local = element.name.slice(this.prefix.length)
    return local.includes(':') ? '' : local
  }
}

const sizeOf = ({ attributes: { width, height } }: XmlElement): Record<string, string> => ({
  ...(width === undefined ? {} : { width }),
  ...(height === undefined ? {} : { height }),
})

/** What an element is called: labels first, then the id and its classes, which programs derive from them. */
function namesOf(element: XmlElement): readonly string[] {
  const { attributes } = element
  const labels = Object.entries(attributes).flatMap(([key, value]) =>
    /^(?:[\w-]+:)?label$|^data-name$|^[\w-]+:id$/.test(key) ? [value] : [],
  )
  const title = element.children.find(child => /(?:^|:)title$/.test(child.name))?.text ?? ''
  const id = (attributes.id ?? '').replace(/_x([0-9A-Fa-f]{2,4})_/g, (_, code: string) =>
    String.fromCharCode(Number.parseInt(code, 16)),
  )
  const names = [...labels, title, id, ...(attributes.class ?? '').split(/\s+/)]
  return [...new Set(names.map(one => one.trim()).filter(Boolean))]
}
