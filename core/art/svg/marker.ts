import type { Mark } from '../ink/mark.ts'
import { at, times } from '../ink/matrix.ts'
import { moved } from '../ink/path.ts'
import type { Matrix } from '../path.ts'
import { type Aim, type Around, apart, type DrawMembers } from './around.ts'
import { clippedTo } from './clipping.ts'
import type { SvgFile } from './file.ts'
import { unitsOf } from './length.ts'
import { rectangle } from './path.ts'
import { quoted } from './said.ts'
import { type ShapeTag, shapeSteps } from './shapes.ts'
import { firstStyle, styleWithin } from './style.ts'
import { directionAt, type Vertex, verticesOf } from './vertices.ts'
import { windowOf } from './window.ts'

/** What markers of a line are drawn with. */
export interface MarkerHow {
  readonly file: SvgFile
  readonly aim: Aim
  readonly draw: DrawMembers
  readonly here: Around
  /** Of the line that they stand on, in its units. */
  readonly pen: number
  readonly line: number
}

/** Shapes that have markers. Source: SVG 1.1, section 11.6.1. */
const marked: ReadonlySet<ShapeTag> = new Set(['path', 'line', 'polyline', 'polygon'])

type Place = 'marker-start' | 'marker-mid' | 'marker-end'

/** What stands on the ends and corners of a line, such as arrow heads, in the order of the line. */
export function markersOf(
  tag: ShapeTag,
  attributes: Readonly<Record<string, string>>,
  how: MarkerHow,
): readonly Mark[] {
  const { style, view } = how.here
  const places = (['marker-start', 'marker-mid', 'marker-end'] as const).filter(one => style[one] !== 'none')
  if (places.length === 0 || !marked.has(tag)) return []
  const vertices = verticesOf(shapeSteps(tag, attributes, view).steps)
  if (vertices.length === 0) return []
  const last = vertices.length - 1
  const drawn = (place: Place, from: number, to: number) =>
    places.includes(place) ? vertices.slice(from, to).flatMap(one => drawnAt(place, one, how)) : []
  return [
    ...drawn('marker-start', 0, 1),
    ...drawn('marker-mid', 1, last),
    ...drawn('marker-end', last, last + 1),
  ]
}

/** Source: SVG 1.1, section 11.6.2; `auto-start-reverse`: SVG 2, section 13.7.1. */
function drawnAt(place: Place, vertex: Vertex, how: MarkerHow): readonly Mark[] {
  const { file, aim, draw, here, pen, line } = how
  const reference = here.style[place]
  const element = file.find(reference, line)
  if (element === undefined || file.tag(element) !== 'marker') return []
  if (here.uses.includes(reference)) {
    file.said.say('broken', line, quoted(reference), 'it uses itself')
    return []
  }
  const { attributes } = element
  const [width, height] = [
    unitsOf(attributes.markerWidth, here.view[0], 3),
    unitsOf(attributes.markerHeight, here.view[1], 3),
  ]
  const scale = attributes.markerUnits === 'userSpaceOnUse' ? 1 : pen
  if (!(width > 0 && height > 0 && scale > 0)) return []
  const inner = windowOf(element, width, height)
  const [x, y] = at(
    inner.matrix,
    unitsOf(attributes.refX, inner.view[0]),
    unitsOf(attributes.refY, inner.view[1]),
  )
  const turn = directionOf(attributes.orient ?? '', place, vertex)
  const [cos, sin] = [scale * Math.cos(turn), scale * Math.sin(turn)]
  const standing: Matrix = [cos, sin, -sin, cos, ...vertex.at]
  const outer = times(times([1, 0, 0, 1, -x, -y], standing), here.matrix)
  const marks = draw(
    element,
    {
      ...apart(here, times(inner.matrix, outer), reference),
      style: styleWithin(firstStyle, file.says(element)),
      layer: here.layer,
      view: inner.view,
      context: here.style,
    },
    aim,
  )
  const overflow = file.says(element)('overflow')
  if (overflow === 'visible' || overflow === 'auto') return marks
  return clippedTo(marks, moved(rectangle(0, 0, width, height), outer), 'nonzero')
}

function directionOf(orient: string, place: Place, vertex: Vertex): number {
  const word = orient.trim()
  if (word === 'auto') return directionAt(vertex)
  if (word === 'auto-start-reverse') return directionAt(vertex) + (place === 'marker-start' ? Math.PI : 0)
  const [, number = '0', unit = 'deg'] = /^([+-]?[\d.]+(?:e[+-]?\d+)?)(deg|grad|rad|turn)?$/i.exec(word) ?? []
  const whole = { deg: 360, grad: 400, rad: 2 * Math.PI, turn: 1 }[unit.toLowerCase()] ?? 360
  return (Number(number) / whole) * 2 * Math.PI
}
