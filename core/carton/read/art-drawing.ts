import { linesOf, outlinesOf } from '../../art/drawn/shapes.ts'
import type { Art, Layer, OutlinePath } from '../../art/layer.ts'
import { colorOf } from '../../art/svg/colour-word.ts'
import type { Point } from '../die.ts'
import type { DieFinding, Drawing, DrawnLine } from './drawing.ts'
import { addCurve } from './flatten.ts'
import { type Alias, namesDie } from './kind-words.ts'

/**
 * Outlines of art as a drawing: the vector shapes of those layers, and those saved paths, whose name, group's name, stated
 * step or ink speaks of the die. Rows of pixels are not traced.
 */
export function drawingOfArt(art: Art, aliases: readonly Alias[] = []): Drawing {
  const byId = new Map(art.layers.map(layer => [layer.id, layer]))
  const hidden = (layer: Layer): boolean => {
    const above = layer.parent === null ? undefined : byId.get(layer.parent)
    return !layer.visible || (above !== undefined && hidden(above))
  }
  const speaks = (names: DrawnLine['names']) => names.flat().some(name => namesDie(name, aliases))
  const drawn = art.layers.flatMap(layer => {
    const lines = drawnLines(art, layer, namesOf(layer, byId)).filter(({ names }) => speaks(names))
    return lines.length === 0 ? [] : [{ layer, lines }]
  })
  const shapes = art.layers.filter(
    layer =>
      layer.outlines === undefined &&
      // Saved paths are read below.
      !layer.savedPath &&
      layer.vectorMask !== null &&
      !layer.vectorMask.disabled &&
      layer.vectorMask.paths.length > 0 &&
      speaks(namesOf(layer, byId)),
  )
  const shown = shapes.filter(layer => !hidden(layer))
  const lines = [
    ...drawn.flatMap(one => (hidden(one.layer) ? [] : one.lines)),
    ...shown.flatMap(layer =>
      layer.vectorMask!.paths.flatMap(path => lineOf(path, namesOf(layer, byId), inkOf(layer))),
    ),
    ...art.paths
      .filter(({ name }) => speaks([[name]]))
      .flatMap(({ name, paths }) => paths.flatMap(path => lineOf(path, [[name]], null))),
  ]
  const ppi = art.resolutionPpi ?? 300
  return {
    name: art.name,
    lines,
    widthMm: (art.width * 25.4) / ppi,
    heightMm: (art.height * 25.4) / ppi,
    scale: { mm: 25.4 / ppi, from: art.resolutionPpi === null ? 'assumed' : 'stated' },
    findings: findingsOf(
      art,
      shapes.length - shown.length + drawn.filter(({ layer }) => hidden(layer)).length,
      lines.length,
    ),
  }
}

/** The shapes of a layer of a drawn page. What a step or an ink is called counts like another name of the layer. */
function drawnLines(art: Art, { outlines = [], step }: Layer, [own = [], ...groups]: DrawnLine['names']) {
  const stated = [step?.type, step?.group].flatMap(name => name ?? [])
  const lines = outlines.filter(({ rule }) => rule === null)
  return outlines.flatMap(({ path, rule, planes, dashed, color: process }) => {
    // A shape that is filled and drawn round is one line.
    if (rule !== null && lines.some(line => sameNumbers(line.path.points, path.points))) return []
    const inks = planes.flatMap(plane => art.channels.find(one => one.plane === plane)?.name ?? [])
    const names = [[...own, ...stated, ...inks], ...groups]
    const color = inks.length === 0 ? (process ?? null) : inks.join(' and ')
    const paths = rule === null ? linesOf(path) : outlinesOf(path, rule)
    return paths.flatMap(one => lineOf(one, names, color).map(line => ({ ...line, dashed: dashed ?? false })))
  })
}

const sameNumbers = (a: Float64Array, b: Float64Array): boolean =>
  a.length === b.length && a.every((value, i) => value === b[i])

function namesOf(layer: Layer, byId: ReadonlyMap<string, Layer>): DrawnLine['names'] {
  const names: string[][] = []
  for (let at: Layer | undefined = layer; at !== undefined; ) {
    names.push([at.name])
    at = at.parent === null ? undefined : byId.get(at.parent)
  }
  return names
}

function lineOf(path: OutlinePath, names: DrawnLine['names'], color: string | null): readonly DrawnLine[] {
  const { knots, closed } = path
  const first = knots[0]
  if (first === undefined) return []
  const points: Point[] = [first.at]
  const steps = closed ? knots.length : knots.length - 1
  for (let i = 0; i < steps; i++) {
    const [from, to] = [knots[i]!, knots[(i + 1) % knots.length]!]
    addCurve(points, from.out, to.in, to.at)
  }
  if (points.length < 2 || !points.every(point => point.every(Number.isFinite))) return []
  return [{ points: middleLine(points) ?? points, names, color, dashed: false, filled: false }]
}

/** A line that is drawn as a filled bar is no wider than this, mm. */
const barMm = 0.6

/** The middle of a bar: a closed shape of four corners, long and no wider than a drawn line. Null for other shapes. */
function middleLine(points: readonly Point[]): readonly Point[] | null {
  const [a, b, c, d, end] = points
  if (points.length !== 5 || end![0] !== a![0] || end![1] !== a![1]) return null
  const half = (p: Point, q: Point): Point => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]
  const apart = (p: Point, q: Point) => Math.hypot(p[0] - q[0], p[1] - q[1])
  const [one, other] = [Math.max(apart(a!, b!), apart(c!, d!)), Math.max(apart(b!, c!), apart(d!, a!))]
  if (Math.min(one, other) > barMm || Math.max(one, other) < 5 * barMm) return null
  return one < other ? [half(a!, b!), half(c!, d!)] : [half(b!, c!), half(d!, a!)]
}

/** A fill's ink as a colour that tells it from others; its looks do not matter here. */
function inkOf({ fill }: Layer): string | null {
  if (fill === null) return null
  if (fill.space === 'RGB')
    return colorOf(`rgb(${fill.values.map(value => Math.round(value * 255)).join(',')})`)
  return `${fill.space} ${fill.values.map(value => Number(value.toFixed(2))).join(' ')}`
}

function findingsOf(art: Art, hidden: number, lines: number): readonly DieFinding[] {
  const finding = (
    severity: DieFinding['severity'],
    code: string,
    message: string,
    fix: string,
  ): readonly DieFinding[] => [{ severity, code, where: art.name, at: null, message, fix }]
  return [
    ...(art.resolutionPpi === null
      ? finding(
          'warning',
          'unit-assumed',
          'the file does not state its resolution; 300 ppi is assumed',
          'State the resolution, or the die has another size.',
        )
      : []),
    ...(hidden > 0
      ? finding(
          'note',
          'lines-hidden',
          `${hidden} hidden vector layers are left out`,
          'Show them if they belong to the die.',
        )
      : []),
    ...(lines === 0
      ? finding(
          'error',
          'no-vectors',
          'no vector layer and no saved path is named after a die',
          'Keep the die as shape layers named "cut" and "crease", or give it as SVG.',
        )
      : []),
  ]
}
