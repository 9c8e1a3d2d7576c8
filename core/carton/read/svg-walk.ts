import { identity, times } from '../../art/ink/matrix.ts'
import type { Matrix } from '../../art/path.ts'
import { unitsOf } from '../../art/svg/length.ts'
import { namesOf } from '../../art/svg/names.ts'
import { isShapeTag, shapeSteps } from '../../art/svg/shapes.ts'
import { type Sheet, sheetOf } from '../../art/svg/sheet.ts'
import { transformOf } from '../../art/svg/transform.ts'
import { viewBoxOf } from '../../art/svg/view.ts'
import { BadInput } from '../../base/finding.ts'
import type { XmlElement } from '../../base/xml.ts'
import type { DrawnLine } from './drawing.ts'
import { linesOf } from './flatten.ts'
import type { Passed } from './svg-passed.ts'
import { type Style, styleOf } from './svg-style.ts'

/** How much a drawing may hold: a carton has hundreds of lines, a crowded sheet some ten thousand. */
const limits = { lines: 200_000, points: 2_000_000, visits: 500_000, useDepth: 16 }

/** What an element takes from those around it. */
export interface Around {
  readonly matrix: Matrix
  readonly style: Style
  readonly names: DrawnLine['names']
  readonly view: readonly [number, number]
  /** Ids of the elements being used, to stop those that use themselves. */
  readonly uses: readonly string[]
}

/** The way through a drawing, element by element, that gathers its lines. */
export class Walk {
  readonly lines: DrawnLine[] = []
  private readonly byId = new Map<string, XmlElement>()
  private readonly sheet: Sheet
  private points = 0
  private visits = 0
  readonly passed: Passed = { hidden: 0, pictures: 0, text: 0, uses: 0, broken: [] }

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
      this.passed.broken.push({ line: element.line, what: 'its transform cannot be read' })
      return
    }
    const names = namesOf(element)
    const here: Around = {
      ...above,
      matrix: times(turned, above.matrix),
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
    if (mistake !== null) this.passed.broken.push({ line: element.line, what: mistake })
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
      this.passed.broken.push({ line: element.line, what: 'its numbers are no place on a sheet' })
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
      matrix: times([1, 0, 0, 1, x, y], around.matrix),
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
    const moved = times([1, 0, 0, 1, x, y], around.matrix)
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
    this.members(element, { ...around, matrix: times(middle, moved), view: [across, down] })
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
