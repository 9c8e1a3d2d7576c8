import { moved } from '../art/ink/path.ts'
import { type Path, pathStep } from '../art/path.ts'
import { stepWords } from '../art/processing-steps.ts'
import { linePath } from '../base/path-data.ts'
import { type Die, type LineKind, lineKinds, type Point } from '../carton/die.ts'
import type { Shape } from '../material/drawn-shapes.ts'
import type { AreaOutlines } from './plate-outlines.ts'
import type { PlateSheet } from './plate-sheet.ts'

/**
 * Outlines of a job as SVG at true size: a unit is a millimetre, the view is the trim with its bleed. A group for each
 * kind of line of the die, by its name, and one for each area, called by its step and its own name. Curves stay curves.
 * Places are rounded to 0.0001 mm.
 */
export function outlinesSvg(
  { die, arts, trim, bleed }: PlateSheet,
  areas: readonly AreaOutlines[],
  title: string,
): Uint8Array<ArrayBuffer> {
  const [left, bottom, right, top] = bleed
  const [width, height] = [trim[0] + left + right, trim[1] + bottom + top]
  const used = new Set<string>()
  const group = (name: string, says: string | null, inside: readonly string[]): readonly string[] =>
    inside.length === 0
      ? []
      : [
          `  <g id="${freeId(name, used)}">`,
          `    <title>${escaped(name)}</title>`,
          ...(says === null ? [] : [`    <desc>${escaped(says)}</desc>`]),
          ...inside.map(line => `    ${line}`),
          '  </g>',
        ]
  // Y runs down in SVG.
  const draw = (shape: Shape, [x, y]: Point): string => {
    const d = pathData(moved(shape.path, [1, 0, 0, -1, x + left, trim[1] + top - y]))
    const rule = shape.rule === 'evenodd' ? ' fill-rule="evenodd"' : ''
    return `<path d="${d}"${rule}${shape.penMm === null ? '' : ` stroke-width="${number(shape.penMm)}"`}/>`
  }
  const text = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${number(width)}mm" height="${number(height)}mm" viewBox="0 0 ${number(width)} ${number(height)}" fill="none" stroke="#303030" stroke-width="0.1">`,
    `  <title>${escaped(title)}</title>`,
    ...(die === null
      ? []
      : lineKinds.flatMap(kind => group(kind, null, dieLines(die, kind, [left, trim[1] + top])))),
    ...areas.flatMap(({ step, name, shapes, from }) =>
      group(
        name,
        `${stepWords(step)}, ${sources[from]}`,
        arts.flatMap(({ at }) => shapes.map(shape => draw(shape, at))),
      ),
    ),
    '</svg>',
    '',
  ].join('\n')
  return new TextEncoder().encode(text)
}

const sources: Readonly<Record<AreaOutlines['from'], string>> = {
  drawn: 'as it is drawn',
  traced: 'traced on the pixels of the art',
  boxed: 'the box that it is set in',
}

function dieLines({ lines }: Die, kind: LineKind, [x, y]: Point): readonly string[] {
  return lines
    .filter(line => line.kind === kind)
    .map(
      ({ points }) =>
        `<path d="${linePath(points.map(([px, py]): Point => [rounded(px + x), rounded(y - py)]))}"/>`,
    )
}

/** Source: SVG 2, section 9.3. */
function pathData({ steps, points }: Path): string {
  const letters = { [pathStep.move]: 'M', [pathStep.line]: 'L', [pathStep.curve]: 'C', [pathStep.close]: 'Z' }
  let [data, at] = ['', 0]
  for (const step of steps) {
    const count = step === pathStep.close ? 0 : step === pathStep.curve ? 6 : 2
    data += letters[step as keyof typeof letters] + [...points.subarray(at, at + count)].map(number).join(' ')
    at += count
  }
  return data
}

const rounded = (value: number): number => Number(value.toFixed(4))
const number = (value: number): string => String(rounded(value))

/** A name as an id that no other group has. Source: XML 1.0, section 2.3. */
function freeId(name: string, used: Set<string>): string {
  const clean = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
  const base = /^[a-z]/.test(clean) ? clean : `area-${clean}`
  let id = base
  for (let n = 2; used.has(id); n++) id = `${base}-${n}`
  used.add(id)
  return id
}

const escaped = (text: string): string => text.replace(/[&<>"]/g, letter => `&#${letter.charCodeAt(0)};`)
