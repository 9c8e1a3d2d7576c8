import type { XmlElement } from '../../base/xml.ts'
import type { InkBlend, Mark, SoftMask } from '../ink/mark.ts'
import { identity, inverse, times } from '../ink/matrix.ts'
import { moved } from '../ink/path.ts'
import type { Matrix } from '../path.ts'
import { type Aim, type Around, type DrawMembers, plainLook } from './around.ts'
import { clippedTo, laidDown } from './clipping.ts'
import { clipBy, maskBy } from './cuts.ts'
import { hrefOf, type SvgFile } from './file.ts'
import { layerName } from './layers.ts'
import { unitsOf } from './length.ts'
import { markersOf } from './marker.ts'
import { type Painted, paintOf } from './paint.ts'
import { isOnSheet, rectangle } from './path.ts'
import { imageMarks, textMarks } from './placed.ts'
import { named, quoted } from './said.ts'
import { isShapeTag, type ShapeTag } from './shapes.ts'
import { opacityOf, ruleOf, strokeStyleOf, styleWithin } from './style.ts'
import { transformOf } from './transform.ts'
import { windowOf } from './window.ts'

/** Elements that are drawn only where they are referred to, or never. */
const silent: ReadonlySet<string> = new Set([
  ...[
    'defs',
    'symbol',
    'clipPath',
    'mask',
    'pattern',
    'linearGradient',
    'radialGradient',
    'marker',
    'filter',
  ],
  ...['style', 'title', 'desc', 'metadata', 'view', 'stop', 'font', 'font-face', 'cursor', 'color-profile'],
])

const blends: ReadonlyMap<string, InkBlend> = new Map([
  ['normal', 'normal'],
  ['multiply', 'multiply'],
  ['screen', 'screen'],
  ['overlay', 'overlay'],
  ['darken', 'darken'],
  ['lighten', 'lighten'],
  ['color-dodge', 'colorDodge'],
  ['color-burn', 'colorBurn'],
  ['hard-light', 'hardLight'],
  ['soft-light', 'softLight'],
  ['difference', 'difference'],
  ['exclusion', 'exclusion'],
  ['hue', 'hue'],
  ['saturation', 'saturation'],
  ['color', 'color'],
  ['luminosity', 'luminosity'],
])

/** The way through a drawing, element by element, that gathers its marks. */
export class Walk {
  constructor(
    private readonly file: SvgFile,
    private readonly aim: Aim,
    /** Units of the whole drawing to page mm. */
    private readonly pageMatrix: Matrix,
  ) {}

  /** Draws the members of what is referred to, in their own aim. */
  private readonly draw: DrawMembers = (element, around, aim) =>
    (aim === this.aim ? this : new Walk(this.file, aim, this.pageMatrix)).members(element, around)

  members(element: XmlElement, around: Around): readonly Mark[] {
    return element.children.flatMap(child => this.element(child, around))
  }

  element(element: XmlElement, above: Around): readonly Mark[] {
    const { file } = this
    file.count('visits', 1, element.line)
    file.checkDepth(above.depth, element.line)
    const tag = file.tag(element)
    if (silent.has(tag)) return []
    if (tag === 'script') file.said.say('script', element.line, 'a script')
    if (/^(?:animate|set$)/.test(tag)) file.said.say('motion', element.line, named(element))
    if (tag === 'foreignObject') file.said.say('foreign', element.line, named(element))
    const isShape = isShapeTag(tag)
    if (!isShape && !['g', 'a', 'switch', 'svg', 'use', 'image', 'text'].includes(tag)) return []
    const says = file.says(element)
    const { transform } = element.attributes
    const turned = transform === undefined ? identity : transformOf(transform)
    if (turned === null) {
      file.said.say('broken', element.line, named(element), 'its transform cannot be read')
      return []
    }
    let style = styleWithin(above.style, says)
    let { layer, layered } = above
    const isHidden =
      says('display') === 'none' || (says('visibility') !== undefined && style.visibility !== 'visible')
    const isGroup = tag === 'g' || tag === 'svg' || tag === 'a'
    const name = layered && (isGroup || layer === null) ? layerName(element, isGroup && layer === null) : null
    if (name !== null) {
      layer = file.layers.add(name, layer, !isHidden)
      // A hidden layer is drawn as it would be once it is shown.
      if (isHidden) style = { ...style, visibility: 'visible' }
      layered = isGroup
    } else if (says('display') === 'none' || (isShape && style.visibility !== 'visible')) {
      file.said.say('hidden', element.line, named(element))
      return []
    }
    const here: Around = {
      ...above,
      matrix: times(turned, above.matrix),
      style,
      layer,
      layered,
      depth: above.depth + 1,
    }
    return this.laid(element, says, here, this.inside(element, tag, here))
  }

  private inside(element: XmlElement, tag: string, here: Around): readonly Mark[] {
    if (isShapeTag(tag)) return this.shape(element, tag, here)
    switch (tag) {
      case 'use':
        return this.use(element, here)
      case 'svg':
        return this.nested(element, element, here)
      case 'image':
        return imageMarks(this.file, this.aim, element, here)
      case 'text':
        return textMarks(this.file, this.aim, element, here)
      case 'switch': {
        // The first that can be shown; what asks for another language than SVG cannot.
        const shown = element.children.find(one => !['', 'foreignObject'].includes(this.file.tag(one)))
        return shown === undefined ? [] : this.element(shown, here)
      }
      default:
        return this.members(element, here)
    }
  }

  /** What an element does to its marks as a whole: clip, mask, opacity, blending. Source: SVG 1.1, chapter 14; Compositing 1. */
  private laid(
    element: XmlElement,
    says: (property: string) => string | undefined,
    here: Around,
    marks: readonly Mark[],
  ): readonly Mark[] {
    const { said } = this.file
    if (marks.length === 0) return marks
    if ((says('filter') ?? 'none') !== 'none') said.say('filter', element.line, named(element))
    const blendName = says('mix-blend-mode') ?? 'normal'
    const blend = blends.get(blendName)
    if (blend === undefined) said.say('blend', element.line, named(element), blendName)
    let shown = marks
    const softMasks: SoftMask[] = []
    const clip = says('clip-path') ?? 'none'
    if (clip !== 'none') {
      const cut = clipBy(clip, { file: this.file, draw: this.draw, element, here, marks })
      shown = cut.marks
      softMasks.push(...cut.softMasks)
    }
    const mask = says('mask') ?? 'none'
    if (mask !== 'none') {
      const own = maskBy(mask, { file: this.file, draw: this.draw, element, here, marks })
      if (own !== null) softMasks.push(own)
    }
    return laidDown(
      shown,
      {
        alpha: opacityOf(says('opacity')),
        blend: blend ?? 'normal',
        softMasks,
        isolated: says('isolation') === 'isolate',
      },
      here.layer,
    )
  }

  private shape(element: XmlElement, tag: ShapeTag, here: Around): readonly Mark[] {
    const { file, aim } = this
    const { style, matrix, view } = here
    const { path, bounds, mistake } = file.shape(element, tag, view)
    if (mistake !== null) file.said.say('broken', element.line, named(element), mistake)
    if (path.steps.length < 2 || bounds === null) return []
    const onPage = moved(path, matrix)
    file.count('numbers', path.points.length, element.line)
    if (!isOnSheet(onPage)) {
      file.said.say('broken', element.line, named(element), 'its numbers are no place on a sheet')
      return []
    }
    const marks: Mark[] = []
    const painted = { file, aim, draw: this.draw, around: here, bounds, line: element.line }
    const fill = aim.outlines ? plainFill(aim) : tag === 'line' ? null : paintOf(style.fill, painted)
    if (fill !== null)
      marks.push({
        ...plainLook(here, fill.alpha * (aim.outlines ? 1 : opacityOf(style['fill-opacity']))),
        kind: 'fill',
        path: onPage,
        rule: ruleOf(style['fill-rule']),
        paint: fill.paint,
        text: null,
      })
    const pen = strokeStyleOf(style, Math.hypot(...view) / Math.SQRT2)
    const stroke = pen.width > 0 && !aim.outlines ? paintOf(style.stroke, painted) : null
    if (stroke !== null) {
      const back =
        file.says(element)('vector-effect') === 'non-scaling-stroke' ? inverse(this.pageMatrix) : null
      marks.push({
        ...plainLook(here, stroke.alpha * opacityOf(style['stroke-opacity'])),
        kind: 'stroke',
        path: back === null ? path : moved(path, times(matrix, back)),
        matrix: back === null ? matrix : this.pageMatrix,
        style: pen,
        paint: stroke.paint,
        text: null,
      })
    }
    file.count('marks', marks.length, element.line)
    const seen = marks.filter(mark => mark.alpha > 0)
    if (/^stroke/.test(style['paint-order'])) seen.reverse()
    if (aim.outlines) return seen
    const how = { file, aim, draw: this.draw, here, pen: pen.width, line: element.line }
    return [...seen, ...markersOf(tag, element.attributes, how)]
  }

  private use(element: XmlElement, around: Around): readonly Mark[] {
    const target = hrefOf(element)
    const used = this.file.find(target, element.line)
    if (used === undefined) return []
    if (around.uses.includes(target)) {
      this.file.said.say('broken', element.line, quoted(target), 'it uses itself')
      return []
    }
    const { view } = around
    const [x, y] = [unitsOf(element.attributes.x, view[0]), unitsOf(element.attributes.y, view[1])]
    const here: Around = {
      ...around,
      matrix: times([1, 0, 0, 1, x, y], around.matrix),
      layered: false,
      uses: [...around.uses, target],
    }
    const tag = this.file.tag(used)
    if (tag !== 'symbol' && tag !== 'svg') return this.element(used, here)
    const says = this.file.says(used)
    const style = styleWithin(here.style, says)
    const { width, height } = element.attributes
    const sized = {
      ...used,
      attributes: {
        ...used.attributes,
        ...(width === undefined ? {} : { width }),
        ...(height === undefined ? {} : { height }),
        ...(tag === 'symbol' ? { x: '0', y: '0' } : {}),
      },
    }
    return this.laid(used, says, { ...here, style }, this.nested(sized, used, { ...here, style }))
  }

  /** A drawing within the drawing: its own window and units, cut to its window. */
  private nested(element: XmlElement, original: XmlElement, around: Around): readonly Mark[] {
    const { view } = around
    const { attributes } = element
    const width = unitsOf(attributes.width ?? '100%', view[0], view[0])
    const height = unitsOf(attributes.height ?? '100%', view[1], view[1])
    if (!(width > 0 && height > 0)) return []
    const place: Matrix = [1, 0, 0, 1, unitsOf(attributes.x, view[0]), unitsOf(attributes.y, view[1])]
    const outer = times(place, around.matrix)
    const inner = windowOf(element, width, height)
    const marks = this.members(original, { ...around, matrix: times(inner.matrix, outer), view: inner.view })
    const overflow = this.file.says(element)('overflow')
    if (overflow === 'visible' || overflow === 'auto') return marks
    return clippedTo(marks, moved(rectangle(0, 0, width, height), outer), 'nonzero')
  }
}

const plainFill = ({ inks, tints }: Aim): Painted => ({
  paint: { kind: 'tints', inks, values: tints([0, 0, 0, 1]) },
  alpha: 1,
})
