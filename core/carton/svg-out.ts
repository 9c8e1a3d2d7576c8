import { linePath, ringsPath } from '../base/path-data.ts'
import type { Blank } from './blank.ts'
import { type DieLine, type LineKind, lineKinds, type Outline, type Point } from './die.ts'

/** Colours of the rules as they are drawn; a reader goes by the names of the groups. */
const colors: Readonly<Record<LineKind, string>> = {
  cut: '#d4002a',
  crease: '#0057b8',
  'reverse-crease': '#6a3fa0',
  perforation: '#00843d',
  tear: '#00788a',
  'cut-crease': '#a05a00',
}

const dashes: Readonly<Record<LineKind, string>> = {
  cut: '',
  crease: ' stroke-dasharray="3 1.5"',
  'reverse-crease': ' stroke-dasharray="3 1 0.5 1"',
  perforation: ' stroke-dasharray="1 1"',
  tear: ' stroke-dasharray="2 0.7"',
  'cut-crease': ' stroke-dasharray="4 2 1 2"',
}

/**
 * The die as SVG at true size: a unit is a millimetre, and each kind of line a group of its name, beside `glue`,
 * `bleed` and, where they are wanted, the names of the panels. Places are rounded to 0.001 mm.
 */
export function dieSvg({ widthMm, heightMm, panels, die }: Blank, title: string, names = false): string {
  const xs = die.bleed.flatMap(outline => outline.map(([x]) => x))
  const ys = die.bleed.flatMap(outline => outline.map(([, y]) => y))
  const left = Math.min(0, ...xs)
  const top = Math.max(heightMm, ...ys)
  const width = Math.max(widthMm, ...xs) - left
  const height = top - Math.min(0, ...ys)
  // Y runs down in SVG.
  const place = ([x, y]: Point): Point => [rounded(x - left), rounded(top - y)]
  const lines = (all: readonly DieLine[]) =>
    all.map(({ points }) => `      <path d="${linePath(points.map(place))}"/>`)
  const areas = (all: readonly Outline[]) =>
    all.map(outline => `      <path d="${ringsPath([outline.map(place)])}"/>`)
  const group = (id: string, style: string, inside: readonly string[]) =>
    inside.length === 0 ? [] : [`    <g id="${id}" ${style}>`, ...inside, '    </g>']
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" width="${rounded(width)}mm" height="${rounded(height)}mm" viewBox="0 0 ${rounded(width)} ${rounded(height)}">`,
    `  <title>${escaped(title)}</title>`,
    '  <g fill="none" stroke-width="0.25" stroke-linejoin="round">',
    ...group('bleed', 'stroke="#808080" stroke-width="0.15" stroke-dasharray="0.8 0.8"', areas(die.bleed)),
    ...group('glue', 'stroke="none" fill="#e8b400" fill-opacity="0.35"', areas(die.glue)),
    ...lineKinds.flatMap(kind =>
      group(
        kind,
        `stroke="${colors[kind]}"${dashes[kind]}`,
        lines(die.lines.filter(line => line.kind === kind)),
      ),
    ),
    '  </g>',
    ...(names ? [`  <g id="names" ${nameStyle}>`, ...panels.map(nameOf(place)), '  </g>'] : []),
    '</svg>',
    '',
  ].join('\n')
}

const nameStyle = 'fill="#404040" font-family="sans-serif" font-size="3" text-anchor="middle"'

const nameOf =
  (place: (at: Point) => Point) =>
  ({ name, outline }: Blank['panels'][number]): string => {
    const xs = outline.map(([x]) => x)
    const ys = outline.map(([, y]) => y)
    const middle: Point = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2]
    const [x, y] = place(middle)
    return `    <text x="${x}" y="${y}">${escaped(name)}</text>`
  }

const rounded = (value: number): number => Number(value.toFixed(3))

function escaped(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;')
}
