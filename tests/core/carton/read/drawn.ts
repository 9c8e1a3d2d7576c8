import type { LineKind, Point } from '../../../../core/carton/die.ts'
import type { DieReading } from '../../../../core/carton/read/read-die.ts'
import { type DieOptions, readDie } from '../../../../core/carton/read/read-die.ts'
import { readSvg } from '../../../../core/carton/read/svg.ts'

export interface TestLine {
  readonly kind: LineKind
  readonly points: readonly Point[]
}

const colors: Readonly<Record<LineKind, string>> = {
  cut: '#e3001b',
  crease: '#009640',
  'reverse-crease': '#8a5aa8',
  perforation: '#0069b4',
  tear: '#00838f',
  'cut-crease': '#f39200',
}

/** A drawing in mm, y up, on a page with room around it; one group a kind unless told otherwise. */
export function svgOf(
  lines: readonly TestLine[],
  { names = true, margin = 20, unit = 'mm' }: { names?: boolean; margin?: number; unit?: string } = {},
): string {
  const xs = lines.flatMap(({ points }) => points.map(([x]) => x))
  const ys = lines.flatMap(({ points }) => points.map(([, y]) => y))
  const [left, bottom] = [Math.min(...xs) - margin, Math.min(...ys) - margin]
  const [width, height] = [Math.max(...xs) + margin - left, Math.max(...ys) + margin - bottom]
  const path = (points: readonly Point[]) =>
    `M${points.map(([x, y]) => `${x - left} ${height - (y - bottom)}`).join('L')}`
  const groups = (Object.keys(colors) as LineKind[]).map(kind => {
    const own = lines.filter(line => line.kind === kind)
    const paths = own.map(({ points }) => `<path d="${path(points)}"/>`).join('\n')
    return own.length === 0
      ? ''
      : `<g ${names ? `id="${kind}"` : ''} fill="none" stroke="${colors[kind]}">${paths}</g>`
  })
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}${unit}" height="${height}${unit}" viewBox="0 0 ${width} ${height}">${groups.join('\n')}</svg>`
}

export const readText = (svg: string, options: Partial<DieOptions> = {}): DieReading =>
  readDie(readSvg(new TextEncoder().encode(svg), 'box.svg'), { caliperMm: 0.4, ...options })

export const readLines = (lines: readonly TestLine[], options: Partial<DieOptions> = {}): DieReading =>
  readText(svgOf(lines), options)

export const codes = ({ findings }: DieReading) => findings.map(({ code }) => code)

export const cut = (...points: Point[]): TestLine => ({ kind: 'cut', points })
export const crease = (...points: Point[]): TestLine => ({ kind: 'crease', points })
export const perforation = (...points: Point[]): TestLine => ({ kind: 'perforation', points })

/**
 * A reverse tuck carton for an eyepiece, 60 × 40 × 100 mm, glue flap at the left, its lower left corner at 0, 0:
 * glue flap 12 | back 60 | left side 40 | front 60 | right side 39.5; lids 40 and tongues 15.
 */
export function tuckCarton(): TestLine[] {
  const [g, b, l, f, r] = [12, 72, 112, 172, 211.5]
  const [low, high] = [55, 155]
  const up = (x0: number, x1: number): TestLine[] => [
    crease([x0, high], [x1, high]),
    crease([x0, high + 40], [x1, high + 40]),
    cut([x0, high], [x0, high + 40], [x0, high + 55], [x1, high + 55], [x1, high + 40], [x1, high]),
  ]
  const down = (x0: number, x1: number): TestLine[] => [
    crease([x0, low], [x1, low]),
    crease([x0, low - 40], [x1, low - 40]),
    cut([x0, low], [x0, low - 40], [x0, low - 55], [x1, low - 55], [x1, low - 40], [x1, low]),
  ]
  const dust = (x0: number, x1: number, y: number, depth: number): TestLine[] => [
    crease([x0, y], [x1, y]),
    cut([x0, y], [x0 + 2, y + depth], [x1 - 2, y + depth], [x1, y]),
  ]
  return [
    cut([g, low], [0, low + 5], [0, high - 5], [g, high]),
    ...[g, b, l, f].map(x => crease([x, low], [x, high])),
    cut([r, low], [r, high]),
    ...up(l, f),
    ...down(g, b),
    ...dust(b, l, high, 30),
    ...dust(f, r, high, 30),
    ...dust(b, l, low, -30),
    ...dust(f, r, low, -30),
    cut([g, high], [b, high]),
    cut([l, low], [f, low]),
  ]
}
