import type { XmlElement } from '../../base/xml.ts'
import { PathWriter } from '../ink/path.ts'
import type { Path } from '../path.ts'
import { unitsOf } from './length.ts'

/** Live type of a drawing. */
export interface LiveText {
  readonly value: string
  /** Where it lies as far as the file says: boxes around its lines, in units of the drawing; null where it says nothing. */
  readonly path: Path | null
}

/** Of an em: how wide a letter is taken to be, and how far one reaches above and below its line. Common practice, no source. */
const letter = 0.5
const above = 0.75
const below = 0.25

/**
 * What a text element says and where. Lines begin wherever a part of it has a place of its own; their lengths are
 * guessed from their letters unless the file gives them.
 * @param em    units of the drawing
 * @param view  width and height that 100 % stand for
 */
export function liveText(
  element: XmlElement,
  em: number,
  anchor: string,
  view: readonly [number, number],
): LiveText {
  const lines: { x: number; y: number; text: string; length: number | null }[] = []
  const words: string[] = []
  let isPlaced = true
  let at = { x: 0, y: 0 }
  const visit = (one: XmlElement): void => {
    const { x, y, dx, dy, textLength } = one.attributes
    if (/(?:^|:)textPath$/.test(one.name)) isPlaced = false
    const first = (list: string | undefined) => list?.trim().split(/[\s,]+/)[0]
    const move = (text: string | undefined, whole: number) => {
      const relative = /^(-?[\d.]+)em$/.exec(text?.trim() ?? '')
      return relative === null ? unitsOf(first(text), whole) : Number(relative[1]) * em
    }
    if (x !== undefined) at = { ...at, x: unitsOf(first(x), view[0]) }
    if (y !== undefined) at = { ...at, y: unitsOf(first(y), view[1]) }
    at = { x: at.x + move(dx, view[0]), y: at.y + move(dy, view[1]) }
    const text = one.text.replace(/\s+/g, ' ').trim()
    if (text !== '') {
      words.push(text)
      const starts = lines.length === 0 || [x, y, dy].some(place => place !== undefined)
      const length = textLength === undefined ? null : unitsOf(textLength, view[0])
      if (starts) lines.push({ ...at, text, length })
      else lines.at(-1)!.text += ` ${text}`
    }
    for (const child of one.children) if (/(?:^|:)(?:tspan|textPath|a)$/.test(child.name)) visit(child)
  }
  visit(element)
  const writer = new PathWriter()
  for (const { x, y, text, length } of lines) {
    const width = length ?? [...text].length * letter * em
    const left = anchor === 'middle' ? x - width / 2 : anchor === 'end' ? x - width : x
    writer.move(left, y - above * em)
    writer.line(left + width, y - above * em)
    writer.line(left + width, y + below * em)
    writer.line(left, y + below * em)
    writer.close()
  }
  return { value: words.join(' '), path: isPlaced && lines.length > 0 && em > 0 ? writer.path() : null }
}
