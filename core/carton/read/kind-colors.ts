import { boxOf } from '../outline.ts'
import { arrange } from './arrange.ts'
import type { DieFinding, DrawnLine } from './drawing.ts'
import { facesOf, fromOf, outside, twin } from './faces.ts'
import type { ReadKind } from './kind-words.ts'
import { counted } from './words.ts'

export interface NamedLine {
  readonly line: DrawnLine
  readonly kind: ReadKind
}

interface Told {
  /** One for each line; null where it stays unknown. */
  readonly kinds: readonly (ReadKind | null)[]
  readonly findings: readonly DieFinding[]
}

/**
 * What lines do whose names do not say. Beside named cuts and creases only a colour that belongs to one of them tells;
 * else of two colours the one that closes the outline cuts; else dashes crease.
 * @param file  file name, for messages
 */
export function kindsByColor(lines: readonly DrawnLine[], named: readonly NamedLine[], file: string): Told {
  const has = (kind: ReadKind) => named.some(one => one.kind === kind)
  const creased = has('crease') || has('cut-crease') || has('reverse-crease')
  if (has('cut') && creased) return byNamed(lines, named)
  if (has('cut') || creased) return byTheOther(lines, has('cut') ? 'crease' : 'cut')
  const colors = [...new Set(lines.map(colorKey))]
  const dashed = lines.filter(line => line.dashed).length
  if (colors.length === 2) return byOutline(lines, colors, file)
  if (colors.length === 1 && dashed > 0 && dashed < lines.length) return byDash(lines)
  if (isOneOutline(lines)) return asCut(lines)
  return unknown(lines, colors)
}

const colorKey = ({ color }: DrawnLine) => color ?? 'no colour'

/** Cut and crease are named: a line of a colour that only one of them has is of that kind, the rest is no die. */
function byNamed(lines: readonly DrawnLine[], named: readonly NamedLine[]): Told {
  const byColor = new Map<string, Set<ReadKind>>()
  for (const { line, kind } of named)
    byColor.set(colorKey(line), (byColor.get(colorKey(line)) ?? new Set()).add(kind))
  const kinds = lines.map(line => {
    const known = byColor.get(colorKey(line))
    return known?.size === 1 ? [...known][0]! : null
  })
  const left = lines.filter((_, i) => kinds[i] === null)
  return {
    kinds,
    findings:
      left.length === 0
        ? []
        : [
            {
              severity: 'warning',
              code: 'lines-unknown',
              where: groupsOf(left),
              at: null,
              message: `${counted(left.length, 'line')} ${left.length === 1 ? 'is' : 'are'} left out: neither name nor colour says what ${left.length === 1 ? 'it does' : 'they do'}`,
              fix: 'Name their layer after what they do, or say what its name or colour stands for.',
            },
          ],
  }
}

/** Only one of cut and crease is named, so the rest is the other. */
function byTheOther(lines: readonly DrawnLine[], kind: 'cut' | 'crease'): Told {
  const other = kind === 'cut' ? 'crease' : 'cut'
  return {
    kinds: lines.map(() => kind),
    findings: [
      {
        severity: 'warning',
        code: 'kinds-by-rest',
        where: groupsOf(lines),
        at: null,
        message: `only ${other} lines are named; the other ${counted(lines.length, 'line')} ${lines.length === 1 ? 'is' : 'are'} taken for ${kind}`,
        fix: 'Name both layers, or say what names and colours stand for.',
      },
    ],
  }
}

function byOutline(lines: readonly DrawnLine[], colors: readonly string[], file: string): Told {
  const of = (color: string) => lines.filter(line => colorKey(line) === color)
  const [first, second] = colors.map(color => ({ color, ...reachOf(of(color), lines, file) }))
  const dashes = colors.map(color => of(color).every(line => line.dashed))
  const [a, b] = [first!, second!]
  const cut =
    a.closes !== b.closes
      ? a.closes
        ? a
        : b
      : a.sides !== b.sides
        ? a.sides > b.sides
          ? a
          : b
        : dashes[0] !== dashes[1]
          ? dashes[0]
            ? b
            : a
          : null
  if (cut === null) return unknown(lines, colors)
  const crease = cut === a ? b : a
  const why =
    a.closes !== b.closes
      ? 'closes the outline'
      : a.sides !== b.sides
        ? 'reaches furthest out, though it does not close the outline'
        : 'is not dashed'
  return {
    kinds: lines.map(line => (colorKey(line) === cut.color ? 'cut' : 'crease')),
    findings: [
      {
        severity: 'warning',
        code: 'kinds-by-color',
        where: 'the drawing',
        at: null,
        message: `no name says which lines are cut; ${cut.color} is taken for cut, since it ${why}, and ${crease.color} for crease`,
        fix: 'Name the layers "cut" and "crease", or say what the colours stand for.',
      },
    ],
  }
}

function byDash(lines: readonly DrawnLine[]): Told {
  return {
    kinds: lines.map(({ dashed }) => (dashed ? 'crease' : 'cut')),
    findings: [
      {
        severity: 'warning',
        code: 'kinds-by-dash',
        where: 'the drawing',
        at: null,
        message: 'neither names nor colours say which lines are cut; dashed lines are taken for crease',
        fix: 'Name the layers "cut" and "crease", or give them two colours.',
      },
    ],
  }
}

/** A crease never closes on itself: one closed line, and others inside of it that touch nothing, are an outline and its windows. */
function isOneOutline(lines: readonly DrawnLine[]): boolean {
  const isClosed = ({ points }: DrawnLine) => {
    const [first, last] = [points[0]!, points.at(-1)!]
    return points.length > 3 && Math.hypot(first[0] - last[0], first[1] - last[1]) < closedMm
  }
  if (lines.length > mostClosed || !lines.every(line => isClosed(line) && !line.dashed)) return false
  const boxes = lines
    .map(({ points }) => boxOf(points))
    .toSorted((a, b) => (b[2] - b[0]) * (b[3] - b[1]) - (a[2] - a[0]) * (a[3] - a[1]))
  const apart = (a: Box, b: Box) => a[2] < b[0] || b[2] < a[0] || a[3] < b[1] || b[3] < a[1]
  const inside = (a: Box, b: Box) => a[0] > b[0] && a[1] > b[1] && a[2] < b[2] && a[3] < b[3]
  const [outer, ...others] = boxes
  return others.every(
    (box, i) => inside(box, outer!) && others.every((other, k) => k === i || apart(box, other)),
  )
}

type Box = ReturnType<typeof boxOf>

/** More closed lines than this are no windows. */
const mostClosed = 200

/** Ends nearer than this meet, mm. */
const closedMm = 0.01

function asCut(lines: readonly DrawnLine[]): Told {
  return {
    kinds: lines.map(() => 'cut'),
    findings: [
      {
        severity: 'warning',
        code: 'kinds-by-closing',
        where: groupsOf(lines),
        at: null,
        message: `no name says that ${lines.length === 1 ? 'it cuts; a line that closes is' : 'they cut; lines that close are'} taken for cut`,
        fix: 'Name the layer "cut", or say what its name or colour stands for.',
      },
    ],
  }
}

function unknown(lines: readonly DrawnLine[], colors: readonly string[]): Told {
  const seen = colors
    .slice(0, 6)
    .map(color => `${color} (${counted(lines.filter(line => colorKey(line) === color).length, 'line')})`)
  return {
    kinds: lines.map(() => null),
    findings: [
      {
        severity: 'error',
        code: 'kinds-unknown',
        where: groupsOf(lines),
        at: null,
        message: `cut and crease cannot be told apart: no layer is named after them, and there ${colors.length === 1 ? 'is one colour' : `are ${colors.length} colours`}: ${seen.join(', ')}${colors.length > 6 ? ' …' : ''}`,
        fix: 'Name the layers "cut" and "crease", or say which colour stands for which.',
      },
    ],
  }
}

/** Whether lines close the outline of the whole, and how many sides of its box they touch. */
function reachOf(own: readonly DrawnLine[], all: readonly DrawnLine[], file: string) {
  const boxes = [own, all].map(list => boxOf(list.flatMap(line => line.points)))
  const [mine, whole] = [boxes[0]!, boxes[1]!]
  const sides = mine.filter((value, i) => Math.abs(value - whole[i]!) < 0.5).length
  const covered = coveredArea(own, file)
  return { closes: covered > 0 && covered > 0.9 * coveredArea(all, file), sides }
}

/** Area that lines enclose, mm². */
function coveredArea(lines: readonly DrawnLine[], file: string): number {
  const plane = arrange(
    lines.map(({ points }) => ({ kind: 'cut', points })),
    file,
  )
  const faces = facesOf(plane)
  let twice = 0
  for (const [side, face] of faces.of.entries()) {
    if (face !== outside) continue
    const [a, b] = [fromOf(plane, side), fromOf(plane, twin(side))]
    twice -= plane.x[a]! * plane.y[b]! - plane.x[b]! * plane.y[a]!
  }
  return twice / 2
}

function groupsOf(lines: readonly DrawnLine[]): string {
  const names = [...new Set(lines.map(({ names: [nearest] }) => nearest?.[0] ?? ''))].filter(Boolean)
  if (names.length === 0) return 'the drawing'
  return `${names
    .slice(0, 4)
    .map(name => `"${name.slice(0, 40)}"`)
    .join(', ')}${names.length > 4 ? ' …' : ''}`
}
