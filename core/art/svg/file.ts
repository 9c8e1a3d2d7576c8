import { BadInput } from '../../base/finding.ts'
import type { XmlElement } from '../../base/xml.ts'
import type { Path } from '../path.ts'
import { type HeldImage, heldImage } from './image.ts'
import { LayerList } from './layers.ts'
import { type Bounds, boundsOf, pathOf } from './path.ts'
import { quoted, Said } from './said.ts'
import { type ShapeTag, shapeSteps } from './shapes.ts'
import { type Sheet, saysOf, sheetOf } from './sheet.ts'

/** How much a drawing may hold: far beyond any carton. */
const limits = { visits: 400_000, marks: 100_000, numbers: 16e6, depth: 400 }

/** A shape in its own units. */
export interface SvgShape {
  readonly path: Path
  /** Null for a path without a point. */
  readonly bounds: Bounds | null
  /** What is wrong with its data. */
  readonly mistake: string | null
}

/** A parsed drawing: what its elements refer to, and what it costs to read. */
export class SvgFile {
  readonly said = new Said()
  readonly layers = new LayerList()
  private readonly byId = new Map<string, XmlElement>()
  private readonly sheet: Sheet
  private readonly heard = new Map<XmlElement, (property: string) => string | undefined>()
  private readonly drawn = new Map<XmlElement, { readonly view: string; readonly shape: SvgShape }>()
  private readonly images = new Map<string, HeldImage | string>()
  private visits = 0
  private marks = 0
  private numbers = 0

  /** @param prefix of SVG's elements, with its colon */
  constructor(
    readonly name: string,
    readonly root: XmlElement,
    private readonly prefix: string,
  ) {
    const css: string[] = []
    for (const one of this.all()) {
      const { id } = one.attributes
      if (id !== undefined && !this.byId.has(id)) this.byId.set(id, one)
      if (this.tag(one) !== 'style') continue
      css.push(one.text)
      const plain = one.text.replace(/\/\*[\s\S]*?\*\//g, '')
      for (const [rule] of plain.matchAll(/@import[^;{}]*/g))
        this.said.say('external', one.line, quoted(rule))
      for (const [, selectors] of plain.replace(/@[\w-]+[^{};]*;/g, '').matchAll(/([^{}]+)\{[^{}]*\}/g))
        for (const selector of selectors!.split(','))
          if (!/^\s*(?:[a-z]*[.#])?[\w-]+\s*$/i.test(selector) && !/@font-face/.test(selector))
            this.said.say('rules', one.line, quoted(selector))
    }
    this.sheet = sheetOf(css.join('\n'))
  }

  /** Unpacks the pictures that lie inside the file. */
  async unpack(checkpoint: () => void): Promise<void> {
    for (const one of this.all()) {
      if (this.tag(one) !== 'image') continue
      const address = hrefOf(one)
      if (!/^data:/i.test(address) || this.images.has(address)) continue
      this.images.set(address, await heldImage(address))
      checkpoint()
    }
  }

  /** The picture at an address, why it cannot be read, or null where the address leads out of the file. */
  image(address: string): HeldImage | string | null {
    return this.images.get(address) ?? null
  }

  /** The element that `#id` or `url(#id)` names. What is not there, and what leads out of the file, is said. */
  find(reference: string, line: number): XmlElement | undefined {
    const address = (/^url\(\s*["']?([^"')]*)["']?\s*\)/.exec(reference)?.[1] ?? reference).trim()
    const found = address.startsWith('#') ? this.byId.get(address.slice(1)) : undefined
    if (found === undefined && address !== '')
      this.said.say(address.startsWith('#') ? 'reference' : 'external', line, quoted(address))
    return found
  }

  findId(id: string): XmlElement | undefined {
    return this.byId.get(id)
  }

  /** What an element says of its style; worked out once, since parts that are used come again and again. */
  says(element: XmlElement): (property: string) => string | undefined {
    const known = this.heard.get(element)
    if (known !== undefined) return known
    const says = saysOf(element, this.sheet, this.tag(element))
    this.heard.set(element, says)
    return says
  }

  /** What a shape draws; worked out once, as what it says. */
  shape(element: XmlElement, tag: ShapeTag, view: readonly [number, number]): SvgShape {
    const known = this.drawn.get(element)
    const size = `${view}`
    if (known?.view === size) return known.shape
    const { steps, mistake } = shapeSteps(tag, element.attributes, view)
    const path = pathOf(steps)
    const shape = { path, bounds: boundsOf(path), mistake }
    this.drawn.set(element, { view: size, shape })
    return shape
  }

  /** Name of an element of SVG; of another language, empty. */
  tag(element: XmlElement): string {
    if (!element.name.startsWith(this.prefix)) return ''
    const local = element.name.slice(this.prefix.length)
    return local.includes(':') ? '' : local
  }

  /** Throws BadInput where the drawing repeats itself beyond all measure. */
  count(kind: 'visits' | 'marks' | 'numbers', by: number, line: number): void {
    this[kind] += by
    if (this[kind] > limits[kind]) throw this.tooMuch(line)
  }

  checkDepth(depth: number, line: number): void {
    if (depth > limits.depth) throw this.tooMuch(line)
  }

  private tooMuch(line: number): BadInput {
    return new BadInput(
      'svg-too-large',
      this.name,
      `line ${line}`,
      'the drawing holds more than can be read, or repeats itself without end',
      'Save the carton alone, with its repeats as plain shapes.',
    )
  }

  private *all(): Generator<XmlElement, void, undefined> {
    const waiting = [this.root]
    for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
      yield next
      for (let i = next.children.length - 1; i >= 0; i--) waiting.push(next.children[i]!)
    }
  }
}

export const hrefOf = ({ attributes }: XmlElement): string =>
  (attributes.href ?? attributes['xlink:href'] ?? '').trim()
