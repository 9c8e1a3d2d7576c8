import { colorOf } from '../../art/svg/colour-word.ts'
import type { Outline } from '../die.ts'
import type { KindLine } from './arrange.ts'
import type { DieFinding, Drawing, DrawnLine } from './drawing.ts'
import { kindsByColor } from './kind-colors.ts'
import { type Alias, kindNamer, type ReadKind } from './kind-words.ts'
import { counted } from './words.ts'

export interface KindOptions {
  /** Names of the user's own, looked at before the trade words. */
  readonly aliases?: readonly Alias[]
  /** What a colour stands for, for lines whose names say nothing. */
  readonly colors?: Readonly<Record<string, ReadKind>>
}

export interface Sorted {
  /** Lines of which is known what they do. */
  readonly lines: readonly KindLine[]
  readonly glue: readonly Outline[]
  readonly bleed: readonly Outline[]
  readonly findings: readonly DieFinding[]
}

/** Tells cut, crease and perforation apart: by the name of the line or its nearest group, else by its colour, else by dashes. */
export function sortLines(drawing: Drawing, options: KindOptions = {}): Sorted {
  const kindOfName = kindNamer(options.aliases ?? [])
  const kinds = drawing.lines.map(line => kindOf(line, kindOfName, options.colors))
  const findings: DieFinding[] = []
  const isOpen = (i: number) => kinds[i] === null && !drawing.lines[i]!.filled
  const stroked = drawing.lines.flatMap((_, i) => (isOpen(i) ? [i] : []))
  const filled = drawing.lines.flatMap((line, i) => (kinds[i] === null && line.filled ? [i] : []))
  // Filled shapes are artwork beside lines; alone they are all that the drawing has.
  const nothingElse = stroked.length === 0 && !kinds.some(kind => kind !== null && kind !== 'other')
  const open = nothingElse ? filled : stroked
  if (!nothingElse && filled.length > 0)
    findings.push(leftOut(filled.length, 'filled shape', 'without a stroke'))
  const named = drawing.lines.flatMap((line, i) => {
    const kind = kinds[i]!
    return kind === null ? [] : [{ line, kind }]
  })
  if (open.length > 0) {
    const told = kindsByColor(
      open.map(i => drawing.lines[i]!),
      named,
      drawing.name,
    )
    findings.push(...told.findings)
    for (const [k, i] of open.entries()) kinds[i] = told.kinds[k]!
  }
  const others = kinds.filter(kind => kind === 'other').length
  if (others > 0) findings.push(leftOut(others, 'line', 'of dimensions, text or artwork'))
  return { ...laidOut(drawing.lines, kinds), findings }
}

function kindOf(
  { names, color }: DrawnLine,
  kindOfName: (name: string) => ReadKind | null,
  colors: KindOptions['colors'] = {},
): ReadKind | null {
  for (const level of names)
    for (const name of level) {
      const kind = kindOfName(name)
      if (kind !== null) return kind
    }
  if (color === null) return null
  return Object.entries(colors).find(([key]) => colorOf(key) === color)?.[1] ?? null
}

function laidOut(lines: readonly DrawnLine[], kinds: readonly (ReadKind | null)[]): Omit<Sorted, 'findings'> {
  const out: { lines: KindLine[]; glue: Outline[]; bleed: Outline[] } = { lines: [], glue: [], bleed: [] }
  for (const [i, line] of lines.entries()) {
    const kind = kinds[i]
    switch (kind) {
      case 'cut':
      case 'crease':
      case 'reverse-crease':
      case 'perforation':
      case 'tear':
      case 'cut-crease':
        out.lines.push({ kind, points: line.points })
        break
      case 'glue':
      case 'bleed':
        if (line.points.length > 2) out[kind].push(outlineOf(line))
        break
      case 'other':
      case null:
      case undefined:
        break
    }
  }
  return out
}

function outlineOf({ points }: DrawnLine): Outline {
  const [first, last] = [points[0]!, points.at(-1)!]
  const open = first[0] === last[0] && first[1] === last[1] ? points.slice(0, -1) : points
  const twice = open.reduce((sum, [x, y], i) => {
    const [nx, ny] = open[(i + 1) % open.length]!
    return sum + x * ny - nx * y
  }, 0)
  return twice < 0 ? open.toReversed() : open
}

const leftOut = (count: number, one: string, what: string): DieFinding => ({
  severity: 'note',
  code: 'lines-left-out',
  where: 'the drawing',
  at: null,
  message: `${counted(count, one)} ${what} ${count === 1 ? 'is' : 'are'} left out`,
  fix: 'Name the layer "cut" or "crease" if they belong to the die.',
})
