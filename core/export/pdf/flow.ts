import type { FaceName, Faces } from './faces.ts'
import { border, columnWidth, paper } from './paper.ts'
import { wrapped } from './wrap.ts'

/** A picture of a screen, sRGB: RGB, 8 bits, row by row. */
export interface SheetPicture {
  readonly width: number
  readonly height: number
  readonly rgb: Uint8Array
}

/** What a page says, as operators of a content stream, and the pictures it shows. */
export interface FlowPage {
  readonly operators: string[]
  readonly pictures: SheetPicture[]
}

export interface Style {
  readonly face: FaceName
  /** Points. */
  readonly size: number
  /** 0 black to 1 white. */
  readonly grey: number
}

export const styles = {
  title: { face: 'bold', size: 20, grey: 0 },
  heading: { face: 'bold', size: 12.5, grey: 0 },
  small: { face: 'bold', size: 9.5, grey: 0 },
  body: { face: 'regular', size: 9, grey: 0.1 },
  strong: { face: 'bold', size: 9, grey: 0 },
  caption: { face: 'regular', size: 7.5, grey: 0.3 },
  head: { face: 'regular', size: 7.5, grey: 0.4 },
  cell: { face: 'regular', size: 8, grey: 0.1 },
  cellStrong: { face: 'bold', size: 8, grey: 0 },
  hash: { face: 'mono', size: 7, grey: 0.1 },
} as const satisfies Readonly<Record<string, Style>>

/** Distance of lines over the size of their letters. */
export const leading = 1.32

/** Puts words, lines and pictures on pages from the top down; begins a page where the last is full. */
export class Flow {
  readonly pages: FlowPage[] = []
  /** Distance from the top of the paper to where the next thing begins, points. */
  y = 0

  constructor(readonly faces: Faces) {
    this.newPage()
  }

  newPage(): void {
    this.pages.push({ operators: [], pictures: [] })
    this.y = border.top
  }

  /** Points left on the page. */
  get left(): number {
    return paper.height - border.bottom - this.y
  }

  /** Points of a page that is still empty. */
  get whole(): number {
    return paper.height - border.bottom - border.top
  }

  /** Begins a page unless so much is left. What is higher than a page does not help itself by another. */
  need(height: number): void {
    if (height > this.left && this.y > border.top) this.newPage()
  }

  gap(height: number): void {
    this.y += height
  }

  lines(text: string, style: Style, width: number): readonly string[] {
    const settable = this.faces.settable(text, style.face)
    return wrapped(settable, width, piece => this.faces.width(piece, style.face, style.size))
  }

  /** A line of settable text. @param x, y left end of its base line, points from the paper's upper left corner */
  put(text: string, x: number, y: number, { face, size, grey }: Style, page = this.pages.at(-1)!): void {
    if (text === '') return
    const parts = this.faces.runs(text, face).map(({ font, hex }) => `/${font} ${num(size)} Tf ${hex} Tj`)
    page.operators.push(`BT ${num(grey)} g ${num(x)} ${num(paper.height - y)} Td ${parts.join(' ')} ET`)
  }

  /** A level line. */
  rule(x: number, y: number, width: number, grey: number, thick = 0.5): void {
    const level = num(paper.height - y)
    this.#draw(`${num(grey)} G ${num(thick)} w ${num(x)} ${level} m ${num(x + width)} ${level} l S`)
  }

  /** A filled rectangle. @param rgb 0..1 */
  box(x: number, y: number, width: number, height: number, rgb: readonly [number, number, number]): void {
    const color = rgb.map(num).join(' ')
    this.#draw(`${color} rg ${num(x)} ${num(paper.height - y - height)} ${num(width)} ${num(height)} re f`)
  }

  /** A line through points. */
  path(points: readonly (readonly [x: number, y: number])[], grey: number, thick = 0.5): void {
    const steps = points.map(([x, y], i) => `${num(x)} ${num(paper.height - y)} ${i === 0 ? 'm' : 'l'}`)
    this.#draw(`${num(grey)} G ${num(thick)} w ${steps.join(' ')} S`)
  }

  /** A picture, its upper left corner at x, y. */
  picture(picture: SheetPicture, x: number, y: number, width: number, height: number): void {
    const page = this.pages.at(-1)!
    const known = page.pictures.indexOf(picture)
    const at = known >= 0 ? known : page.pictures.push(picture) - 1
    const place = `${num(width)} 0 0 ${num(height)} ${num(x)} ${num(paper.height - y - height)} cm`
    this.#draw(`q ${place} /P${at} Do Q`)
  }

  #draw(operators: string): void {
    this.pages.at(-1)!.operators.push(operators)
  }

  /** Words in lines, over pages where they must. */
  paragraph(
    text: string,
    style: Style = styles.body,
    x: number = border.left,
    width: number = columnWidth,
  ): void {
    const step = style.size * leading
    for (const line of this.lines(text, style, width)) {
      this.need(step)
      this.put(line, x, this.y + style.size, style)
      this.y += step
    }
  }

  /** A heading that keeps some of what follows on its page. */
  heading(text: string, keeps = 60): void {
    if (this.y > border.top) this.gap(14)
    this.need(keeps)
    this.paragraph(text, styles.heading)
    this.gap(3)
  }
}

/** A number as the format takes it: no exponent, no more digits than a printer can place. */
export const num = (value: number): string => String(Number(value.toFixed(3)) + 0)
