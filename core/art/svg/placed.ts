import type { XmlElement } from '../../base/xml.ts'
import type { Mark } from '../ink/mark.ts'
import { times } from '../ink/matrix.ts'
import { moved } from '../ink/path.ts'
import type { Matrix } from '../path.ts'
import { type Aim, type Around, lightAim, plainLook } from './around.ts'
import { clippedTo } from './clipping.ts'
import { hrefOf, type SvgFile } from './file.ts'
import { imageField } from './image.ts'
import { unitsOf } from './length.ts'
import { isOnSheet, rectangle } from './path.ts'
import { named, quoted } from './said.ts'
import { liveText } from './text.ts'
import { fitted } from './window.ts'

/** A picture inside the file, on its place. One that cannot be shown is said. */
export function imageMarks(file: SvgFile, aim: Aim, element: XmlElement, here: Around): readonly Mark[] {
  const address = hrefOf(element)
  const held = file.image(address)
  if (held === null || typeof held === 'string') {
    if (address === '') return []
    if (held === null) file.said.say('external', element.line, quoted(address))
    else file.said.say('image', element.line, named(element), held)
    return []
  }
  const { attributes } = element
  const { view } = here
  const auto = (text: string | undefined, whole: number) =>
    text === undefined || text === 'auto' ? null : unitsOf(text, whole)
  const [w, h] = [auto(attributes.width, view[0]), auto(attributes.height, view[1])]
  const ratio = held.width / held.height
  const width = w ?? (h === null ? held.width : h * ratio)
  const height = h ?? width / ratio
  if (!(width > 0 && height > 0)) return []
  const place: Matrix = [1, 0, 0, 1, unitsOf(attributes.x, view[0]), unitsOf(attributes.y, view[1])]
  const outer = times(place, here.matrix)
  const fit = fitted([0, 0, held.width, held.height], width, height, attributes.preserveAspectRatio)
  const matrix = times([held.width, 0, 0, held.height, 0, 0], times(fit, outer))
  const rendering = file.says(element)('image-rendering') ?? 'auto'
  const smooth = !/pixelated|crisp|optimizeSpeed/.test(rendering)
  const field = imageField(held, matrix, aim.inks, aim.tints, smooth)
  if (field === null) return []
  file.count('marks', 1, element.line)
  const path = moved(rectangle(0, 0, 1, 1), matrix)
  if (!isOnSheet(path)) return []
  const mark: Mark = {
    ...plainLook(here, 1),
    kind: 'fill',
    path,
    rule: 'nonzero',
    paint: { kind: 'field', field },
    text: null,
  }
  const cuts = /slice/.test(attributes.preserveAspectRatio ?? '')
  return cuts ? clippedTo([mark], moved(rectangle(0, 0, width, height), outer), 'nonzero') : [mark]
}

/** Live type keeps its words and its place, but has no letters to draw. */
export function textMarks(file: SvgFile, aim: Aim, element: XmlElement, here: Around): readonly Mark[] {
  const { style, matrix, view } = here
  const em = Number.parseFloat(style['font-size'])
  const anchor = file.says(element)('text-anchor') ?? 'start'
  const { value, path } = liveText(element, em, anchor, view)
  if (value === '') return []
  const font = style['font-family'].split(',')[0]!.replace(/["']/g, '').trim()
  file.said.say('text', element.line, `the text ${quoted(value)}`, font === '' ? '' : `font ${quoted(font)}`)
  if (path === null || aim !== lightAim) return []
  file.count('marks', 1, element.line)
  return [
    {
      ...plainLook(here, 0),
      kind: 'fill',
      path: moved(path, matrix),
      rule: 'nonzero',
      paint: { kind: 'tints', inks: aim.inks, values: aim.inks.map(() => 0) },
      text: {
        value,
        fontName: font,
        sizeMm: em * Math.sqrt(Math.abs(matrix[0] * matrix[3] - matrix[1] * matrix[2])),
      },
    },
  ]
}
