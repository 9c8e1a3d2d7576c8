import type { XmlElement } from '../../base/xml.ts'
import type { Paint } from '../ink/mark.ts'
import { times } from '../ink/matrix.ts'
import type { Matrix } from '../path.ts'
import { type Aim, type Around, apart, type DrawMembers } from './around.ts'
import { colourOf, type Rgba } from './colour.ts'
import { hrefOf, type SvgFile } from './file.ts'
import { gradientField } from './gradient.ts'
import { unitsOf } from './length.ts'
import type { Bounds } from './path.ts'
import { quoted } from './said.ts'
import { transformOf } from './transform.ts'
import { windowOf } from './window.ts'

/** What a paint is read with. */
export interface PaintHow {
  readonly file: SvgFile
  readonly aim: Aim
  readonly draw: DrawMembers
  readonly around: Around
  /** Of the shape that is painted, in its units. */
  readonly bounds: Bounds
  readonly line: number
}

/** A paint and how much of it covers. */
export interface Painted {
  readonly paint: Paint
  readonly alpha: number
}

/** What `fill` or `stroke` says; null where nothing is painted. Source: SVG 1.1, section 11.2; SVG 2, 13.2 (context). */
export function paintOf(text: string, how: PaintHow): Painted | null {
  const { file, aim, around, line } = how
  const plain = inContext(text.trim(), around)
  if (plain === 'none' || plain === '') return null
  const current = colourOf(around.style.color, [0, 0, 0, 1]) ?? [0, 0, 0, 1]
  const plainColour = (colour: Rgba): Painted => ({
    paint: { kind: 'tints', inks: aim.inks, values: aim.tints(colour) },
    alpha: colour[3],
  })
  const [, reference, otherwise] = /^(url\([^)]*\))\s*(.*)$/.exec(plain) ?? []
  if (reference === undefined) {
    const colour = colourOf(plain, current)
    if (colour === null) file.said.say('colour', line, quoted(plain))
    return plainColour(colour ?? [0, 0, 0, 1])
  }
  const fallback = (): Painted | null =>
    otherwise === undefined || otherwise === '' || otherwise === 'none' ? null : paintOf(otherwise, how)
  const server = file.find(reference, line)
  if (server === undefined) return fallback()
  const tag = file.tag(server)
  if (tag === 'pattern') return tiling(server, reference, how) ?? fallback()
  if (tag !== 'linearGradient' && tag !== 'radialGradient') return fallback()
  const field = gradientField(server, tag === 'linearGradient' ? 'linear' : 'radial', {
    find: id => file.findId(id),
    says: one => file.says(one),
    bounds: how.bounds,
    matrix: around.matrix,
    view: around.view,
    current,
    ...aim,
  })
  return field === null ? fallback() : { paint: { kind: 'field', field }, alpha: 1 }
}

/** What a marker takes from the line that it stands on. */
function inContext(word: string, { context }: Around): string {
  if (word === 'context-fill') return context?.fill.trim() ?? 'none'
  return word === 'context-stroke' ? (context?.stroke.trim() ?? 'none') : word
}

const mostLinks = 16

/** A pattern as a cell that repeats. Source: SVG 1.1, section 13.3. */
function tiling(element: XmlElement, reference: string, how: PaintHow): Painted | null {
  const { file, draw, aim, around, bounds } = how
  if (around.uses.includes(reference)) return null
  const chain = [element]
  while (chain.length < mostLinks) {
    const target = hrefOf(chain.at(-1)!)
    const next = target === '' ? undefined : file.find(target, element.line)
    if (next === undefined || file.tag(next) !== 'pattern' || chain.includes(next)) break
    chain.push(next)
  }
  const attribute = (name: string) => chain.find(one => one.attributes[name] !== undefined)?.attributes[name]
  const source = chain.find(one => one.children.length > 0)
  const own = transformOf(attribute('patternTransform') ?? '')
  if (source === undefined || own === null) return null
  const onBox = attribute('patternUnits') !== 'userSpaceOnUse'
  const [left, top, right, bottom] = bounds
  const [wide, high] = onBox ? [right - left, bottom - top] : around.view
  const length = (name: string, whole: number) =>
    onBox ? unitsOf(attribute(name), 1) * whole : unitsOf(attribute(name), whole)
  const [width, height] = [length('width', wide), length('height', high)]
  if (!(width > 0 && height > 0)) return null
  const [x, y] = [length('x', wide) + (onBox ? left : 0), length('y', high) + (onBox ? top : 0)]
  const viewBox = attribute('viewBox')
  const place: Matrix = [1, 0, 0, 1, x, y]
  const seen = windowOf(
    {
      ...element,
      attributes: { viewBox: viewBox ?? '', preserveAspectRatio: attribute('preserveAspectRatio') ?? '' },
    },
    width,
    height,
  )
  const content =
    viewBox !== undefined
      ? times(seen.matrix, place)
      : attribute('patternContentUnits') === 'objectBoundingBox'
        ? times([right - left, 0, 0, bottom - top, 0, 0], place)
        : ([1, 0, 0, 1, 0, 0] as const)
  const view = viewBox === undefined ? around.view : seen.view
  const marks = draw(source, { ...apart(around, content, reference), view }, aim)
  return {
    paint: {
      kind: 'tiling',
      tiling: {
        marks,
        box: [x, y, x + width, y + height],
        stepX: width,
        stepY: height,
        matrix: times(own, around.matrix),
      },
    },
    alpha: 1,
  }
}
