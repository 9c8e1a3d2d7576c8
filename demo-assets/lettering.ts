import type { OutlinePath } from '../core/art/layer.ts'
import { fillCoverage } from '../core/art/raster-fill.ts'
import letters from './letters.json'
import { type Cover, height, type Point, ppi, width } from './page.ts'

export type Face = keyof typeof letters

export interface Line {
  readonly text: string
  readonly face: Face
  /** Size of the em, mm. */
  readonly size: number
  /** Start of the baseline, or its middle or end as `align` says; mm. */
  readonly at: Point
  readonly align?: 'start' | 'middle' | 'end'
  /** Space added after each letter, parts of the em. */
  readonly tracking?: number
  /** Direction of the baseline, radians counter-clockwise. */
  readonly turn?: number
}

interface FaceData {
  readonly unitsPerEm: number
  readonly glyphs: Readonly<Record<string, { readonly advance: number; readonly path: string }>>
  readonly kerning: Readonly<Record<string, number>>
}

/** Outlines of a line of text, mm from the page's lower left corner. */
export function outlines(line: Line): OutlinePath[] {
  const face: FaceData = letters[line.face]
  const em = line.size / face.unitsPerEm
  const [c, s] = [Math.cos(line.turn ?? 0), Math.sin(line.turn ?? 0)]
  const before = { start: 0, middle: 0.5, end: 1 }[line.align ?? 'start'] * lengthOf(line)
  const out: OutlinePath[] = []
  eachGlyph(line, (path, along) => {
    const place = (x: number, y: number): Point => {
      const [u, v] = [along - before + x * em, y * em]
      return [line.at[0] + u * c - v * s, line.at[1] + u * s + v * c]
    }
    contours(path, place).forEach((knots, i) => {
      out.push({ closed: true, continues: i > 0, combine: 'unite', knots })
    })
  })
  return out
}

/** Length of a line's baseline, mm, without the space after its last letter. */
export function lengthOf(line: Line): number {
  return eachGlyph(line, () => undefined) - (line.tracking ?? 0) * line.size
}

export function addText(cover: Cover, line: Line): void {
  addOutlines(cover, outlines(line))
}

export function addOutlines(cover: Cover, paths: readonly OutlinePath[]): void {
  const xs = paths.flatMap(path => path.knots.map(k => k.at[0]))
  const ys = paths.flatMap(path => path.knots.map(k => k.at[1]))
  const pixel = (mm: number) => (mm * ppi) / 25.4
  const box = {
    left: Math.max(0, Math.floor(pixel(Math.min(...xs))) - 1),
    right: Math.min(width, Math.ceil(pixel(Math.max(...xs))) + 1),
    top: Math.max(0, Math.floor(height - pixel(Math.max(...ys))) - 1),
    bottom: Math.min(height, Math.ceil(height - pixel(Math.min(...ys))) + 1),
  }
  const part = fillCoverage({ paths, startsFull: false }, box, ppi, height)
  for (let y = box.top; y < box.bottom; y++)
    for (let x = box.left; x < box.right; x++) {
      const share = part[(y - box.top) * (box.right - box.left) + x - box.left]!
      cover[y * width + x] = Math.max(cover[y * width + x]!, share)
    }
}

/** Calls back with each glyph's path and its place along the baseline, mm; returns where the next would stand. */
function eachGlyph(line: Line, take: (path: string, along: number) => void): number {
  const face: FaceData = letters[line.face]
  let along = 0
  const signs = [...line.text]
  signs.forEach((sign, i) => {
    const glyph = face.glyphs[sign]
    if (!glyph)
      throw new RangeError(
        `lettering: expected "${sign}" in letters.json, face ${line.face}; run letters.mjs`,
      )
    take(glyph.path, along)
    const kern = face.kerning[sign + (signs[i + 1] ?? '')] ?? 0
    along += ((glyph.advance + kern) / face.unitsPerEm + (line.tracking ?? 0)) * line.size
  })
  return along
}

type Knot = OutlinePath['knots'][number]

/** Quadratic outlines as cubic knots: handles reach two thirds of the way to the quadratic's control point. */
function contours(path: string, place: (x: number, y: number) => Point): Knot[][] {
  const out: Knot[][] = []
  let knots: { in: Point; at: Point; out: Point }[] = []
  for (const [, type, numbers] of path.matchAll(/([MLQZ])([^MLQZ]*)/g)) {
    const n = numbers!.trim().split(/\s+/).map(Number)
    if (type === 'M') knots = []
    if (type === 'Z') {
      out.push(closed(knots))
      continue
    }
    const at = place(n.at(-2)!, n.at(-1)!)
    const last = knots.at(-1)
    if (type === 'Q' && last) {
      const control = place(n[0]!, n[1]!)
      last.out = toward(last.at, control)
      knots.push({ in: toward(at, control), at, out: at })
    } else if (!last || last.at[0] !== at[0] || last.at[1] !== at[1]) knots.push({ in: at, at, out: at })
  }
  return out
}

const toward = (a: Point, b: Point): Point => [a[0] + (2 / 3) * (b[0] - a[0]), a[1] + (2 / 3) * (b[1] - a[1])]

/** A contour that ends where it began has its last knot joined to its first. */
function closed(knots: readonly Knot[]): Knot[] {
  const [first, last] = [knots[0], knots.at(-1)]
  if (!first || !last || first === last || first.at[0] !== last.at[0] || first.at[1] !== last.at[1])
    return [...knots]
  return [{ ...first, in: last.in }, ...knots.slice(1, -1)]
}
