import type { Point } from '../die.ts'
import { type Body, foldLength } from './body.ts'
import type { Fold } from './creases.ts'
import type { RawPanel } from './panels.ts'

/** What part a panel plays, as far as its place says; decides how and when it folds. */
export type Part =
  | 'wall'
  /** The wall that lands on the glue flap. */
  | 'last wall'
  | 'glue flap'
  | 'dust flap'
  | 'lid'
  | 'tongue'
  /** The two flaps that close an end over each other. */
  | 'inner flap'
  | 'outer flap'
  | 'flap'
  /** A tongue much narrower than its flap, which locks in a slot. */
  | 'lock tongue'
  /** A piece that slants off a flap, glued to its neighbour. */
  | 'pad'
  | 'panel'

export interface NamedPanel {
  readonly name: string
  readonly part: Part
}

/** Trade names where the drawing is a carton with a body of four walls; else numbers, row by row from the top left. */
export function namesOf(
  panels: readonly RawPanel[],
  folds: readonly Fold[],
  body: Body | null,
): readonly NamedPanel[] {
  const named = new Map<number, NamedPanel>()
  if (body !== null) nameCarton(panels, folds, body, named)
  const rest = readingOrder(panels).filter(i => !named.has(i))
  for (const [k, i] of rest.entries()) named.set(i, { name: `panel ${k + 1}`, part: 'panel' })
  return unique(panels.map((_, i) => named.get(i)!))
}

function nameCarton(
  panels: readonly RawPanel[],
  folds: readonly Fold[],
  body: Body,
  named: Map<number, NamedPanel>,
): void {
  const last = body.glueFlap === null ? -1 : body.glueLast ? 0 : 3
  for (const [i, name] of wallNames(panels, body).entries())
    named.set(body.walls[i]!, { name, part: i === last ? 'last wall' : 'wall' })
  if (body.glueFlap !== null) named.set(body.glueFlap, { name: 'glue flap', part: 'glue flap' })
  const at = (panel: number) => folds.filter(fold => fold.panels.includes(panel))
  const other = (fold: Fold, panel: number) => (fold.panels[0] === panel ? fold.panels[1] : fold.panels[0])
  const [ax, ay] = body.along
  const closing: { readonly flap: number; readonly end: string; readonly level: number }[] = []
  for (const wall of body.walls) {
    const { name } = named.get(wall)!
    for (const fold of at(wall)) {
      const flap = other(fold, wall)
      if (named.has(flap)) continue
      const middle: Point = [(fold.from[0] + fold.to[0]) / 2, (fold.from[1] + fold.to[1]) / 2]
      const height = ([x, y]: Point) => y * ax - x * ay
      const end = height(middle) > height(panels[wall]!.center) ? 'top' : 'bottom'
      const further = at(flap).filter(one => one !== fold && !named.has(other(one, flap)))
      const tongue = further.find(one => parallel(one, fold) && foldLength(one) > 0.5 * foldLength(fold))
      const isSide = name.endsWith('side')
      const part = tongue !== undefined ? 'lid' : isSide && further.length === 0 ? 'dust flap' : 'flap'
      if (!isSide && further.length === 0) closing.push({ flap, end, level: height(middle) })
      named.set(flap, { name: part === 'lid' ? `${end} lid` : `${end} ${name} ${part}`, part })
      for (const one of further) {
        const leaf = other(one, flap)
        if (named.has(leaf)) continue
        if (one === tongue) named.set(leaf, { name: `${end} tongue`, part: 'tongue' })
        else if (parallel(one, fold))
          named.set(leaf, { name: `${named.get(flap)!.name} tongue`, part: 'lock tongue' })
        else {
          named.set(
            leaf,
            square(one, fold)
              ? { name: `${named.get(flap)!.name} end`, part: 'flap' }
              : { name: `${end} ${name} pad`, part: 'pad' },
          )
        }
      }
    }
  }
  for (const end of ['top', 'bottom']) {
    const pair = closing.filter(one => one.end === end)
    if (pair.length !== 2) continue
    // The one whose crease lies lower closes first.
    const inward = end === 'top' ? 1 : -1
    const [inner, outer] = pair.sort((a, b) => inward * (a.level - b.level))
    named.set(inner!.flap, { name: `${end} inner flap`, part: 'inner flap' })
    named.set(outer!.flap, { name: `${end} outer flap`, part: 'outer flap' })
  }
  for (const end of ['top', 'bottom']) nameLocked(end, named)
}

/** Flaps of an end that locks by pads or by a tongue have the names that the carton styles give them; their parts stay. */
function nameLocked(end: string, named: Map<number, NamedPanel>): void {
  const ofEnd = [...named].filter(([, { name }]) => name.startsWith(`${end} `))
  const tongues = ofEnd.filter(([, { part }]) => part === 'lock tongue')
  const [tongue] = tongues
  const rename = (panel: number, part: Part, name: string) =>
    named.set(panel, { name: `${end} ${name}`, part })
  if (tongue === undefined && !ofEnd.some(([, { part }]) => part === 'pad')) return
  for (const [panel, { name, part }] of ofEnd)
    if (part === 'dust flap') rename(panel, part, name.slice(end.length + 1).replace(' dust', ''))
  const mains = ofEnd.filter(([, { part }]) => part === 'flap')
  if (tongue === undefined || tongues.length > 1 || mains.length !== 2) return
  for (const [panel, { name, part }] of mains)
    rename(panel, part, tongue[1].name.startsWith(name) ? 'locking flap' : 'holding flap')
  rename(tongue[0], 'lock tongue', 'lock tongue')
}

/**
 * Walls from the print side: the left side lies to the left of the front. The longer pair are front and back, and the
 * back is the one at the glue flap; where the glue flap hangs on a side, the front is nearer to the middle.
 */
function wallNames(panels: readonly RawPanel[], { walls, glueFlap, glueLast }: Body): readonly string[] {
  const area = (i: number) => panels[walls[i]!]!.areaMm2
  const [even, odd] = [area(0) + area(2), area(1) + area(3)]
  const glued = glueLast ? 3 : 0
  // As square as not: the wall at the glue flap is the back.
  const square = Math.abs(even - odd) < 0.02 * (even + odd)
  const evenIsMain = square && glueFlap !== null ? glued % 2 === 0 : even >= odd
  const front = evenIsMain ? 2 : 1
  const ring = ['front', 'right side', 'back', 'left side']
  return [0, 1, 2, 3].map(i => ring[(i - front + 4) % 4]!)
}

const cosine = (p: Fold, q: Fold): number => {
  const [a, b] = [p.to[0] - p.from[0], p.to[1] - p.from[1]]
  const [c, d] = [q.to[0] - q.from[0], q.to[1] - q.from[1]]
  return Math.abs(a * c + b * d) / (Math.hypot(a, b) * Math.hypot(c, d))
}
const parallel = (p: Fold, q: Fold) => cosine(p, q) > Math.cos((10 * Math.PI) / 180)
const square = (p: Fold, q: Fold) => cosine(p, q) < Math.sin((10 * Math.PI) / 180)

/** How near middles of panels lie in height to stand in one row, mm. */
const rowMm = 10

/** Row by row from the top, each from left to right. */
export function readingOrder(panels: readonly RawPanel[]): readonly number[] {
  const order = [...panels.keys()].sort((i, j) => panels[j]!.center[1] - panels[i]!.center[1])
  const rows: number[][] = []
  for (const i of order) {
    const first = rows.at(-1)?.[0]
    if (first !== undefined && panels[first]!.center[1] - panels[i]!.center[1] < rowMm) rows.at(-1)!.push(i)
    else rows.push([i])
  }
  return rows.flatMap(row => row.sort((i, j) => panels[i]!.center[0] - panels[j]!.center[0]))
}

/** A name that comes again gets a number. */
function unique(panels: readonly NamedPanel[]): readonly NamedPanel[] {
  const seen = new Map<string, number>()
  return panels.map(panel => {
    const count = (seen.get(panel.name) ?? 0) + 1
    seen.set(panel.name, count)
    return count === 1 ? panel : { ...panel, name: `${panel.name} ${count}` }
  })
}
