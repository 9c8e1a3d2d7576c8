import { existsSync, readFileSync } from 'node:fs'
import { linePlot } from './svg.ts'

/** How one ink of one page lies beside the reference's plane, of 255; `tests/core/art/separations.test.ts` writes it. */
export interface SeparationRow {
  readonly page: string
  readonly ink: string
  readonly largest: number
  readonly allowed: number
  /** Mean of all pixels, and of those away from edges. */
  readonly mean: number
  readonly meanInside: number
  /** Part of the page that lies away from edges. */
  readonly inside: number
  /** Why more is allowed than elsewhere; empty where it is not. */
  readonly reason: string
}

const heads = [
  'page',
  'ink',
  'largest away from edges',
  'allowed',
  'mean',
  'mean away from edges',
  'away from edges',
  'why more is allowed',
] as const

export const separationHeads: readonly string[] = heads

/** A row as the cells of the table, as it is kept and as it is shown. */
export const separationCells = (row: SeparationRow): readonly string[] => [
  row.page,
  row.ink,
  String(row.largest),
  String(row.allowed),
  row.mean.toFixed(3),
  row.meanInside.toFixed(3),
  row.inside.toFixed(3),
  row.reason,
]

export const separationTable = (rows: readonly SeparationRow[]): string =>
  `${[heads, ...rows.map(separationCells)].map(cells => cells.join('\t')).join('\n')}\n`

/** The table that the test left; null where it did not run. Throws for a table of another make. */
export function readSeparations(file: string): readonly SeparationRow[] | null {
  if (!existsSync(file)) return null
  const [head, ...lines] = readFileSync(file, 'utf8').trimEnd().split('\n')
  if (head !== heads.join('\t'))
    throw new Error(`${file}: expected the columns ${heads.join(', ')}; delete it`)
  return lines.map(line => {
    const [page = '', ink = '', largest, allowed, mean, meanInside, inside, reason = ''] = line.split('\t')
    const [a, b, c, d, e] = [largest, allowed, mean, meanInside, inside].map(Number)
    return { page, ink, largest: a!, allowed: b!, mean: c!, meanInside: d!, inside: e!, reason }
  })
}

/** A page by its worst ink. */
export interface PageOfInks {
  readonly page: string
  readonly ink: string
  readonly inks: number
  readonly largest: number
  readonly allowed: number
  /** Mean of all pixels of the ink that is furthest off. */
  readonly mean: number
  readonly within: boolean
  readonly reason: string
}

/** Pages from the nearest to the furthest off. */
export function separationPages(rows: readonly SeparationRow[]): readonly PageOfInks[] {
  return [...new Set(rows.map(({ page }) => page))]
    .map((name): PageOfInks => {
      const own = rows.filter(one => one.page === name)
      const worst = own.reduce((a, b) => (b.largest > a.largest ? b : a))
      const { page, ink, largest, allowed, reason } = worst
      const mean = Math.max(...own.map(one => one.mean))
      return { page, ink, inks: own.length, largest, allowed, mean, within: largest <= allowed, reason }
    })
    .toSorted((a, b) => a.largest - b.largest || a.mean - b.mean)
}

/** Largest and mean differences of all pages, from the nearest to the furthest off. */
export function separationPlot(pages: readonly PageOfInks[]): string {
  const curve = (value: (page: PageOfInks) => number) => pages.map((page, i) => [i + 1, value(page)] as const)
  const most = Math.max(5, ...pages.map(page => page.largest))
  return linePlot(
    { label: 'page, from the nearest to the furthest off', from: 0, to: pages.length + 1, step: 10 },
    {
      label: 'difference, of 255 (largest: away from edges)',
      from: 0,
      to: most,
      step: Math.max(1, Math.ceil(most / 10)),
    },
    [
      { name: 'allowed', color: '#999', points: curve(page => page.allowed) },
      { name: 'largest', color: '#c8372d', points: curve(page => page.largest) },
      { name: 'mean', color: '#2a6fb0', points: curve(page => page.mean) },
    ],
  )
}
