import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { quantities } from '../published/quantities.ts'
import { type JudgedRow, judge, readRows } from '../published/row.ts'
import { efficiencyPlot, orderZeroPlot, tiltPlot } from './plots.ts'
import {
  type PageOfInks,
  readSeparations,
  type SeparationRow,
  separationCells,
  separationHeads,
  separationPages,
  separationPlot,
} from './separations.ts'
import { escaped } from './svg.ts'
import { allSweeps, randomSweeps, type TruthRow, truthTable } from './truth.ts'

/** Prints the tables, writes the page with the plots; returns whether everything is within what is allowed. */
export function report(root: string): boolean {
  const published = [...readRows(join(root, 'tests', 'published'))].map(
    ([name, rows]) => [name, rows.map(row => judge(row, quantities))] as const,
  )
  for (const [name, rows] of published) {
    console.log(`\n${name}`)
    for (const row of rows) console.log(`  ${row.within ? 'ok  ' : 'OFF '} ${lineOf(row)}`)
  }
  const truth = truthTable(allSweeps())
  printTruth('band samples against the sum over every nanometre, ΔE00', truth)
  const random = truthTable(randomSweeps(randomCount))
  printTruth(`the same over ${randomCount} sweeps by chance, of which one in a hundred may be off`, random)
  const randomOff = random.reduce((sum, row) => sum + row.off, 0)
  const folder = join(root, 'dist', 'report')
  mkdirSync(folder, { recursive: true })
  const separations = readSeparations(join(folder, 'separations.tsv'))
  const pages = separationPages(separations ?? [])
  printPages(pages)
  const plots = {
    tilt: tiltPlot(),
    efficiency: efficiencyPlot(),
    'order-0': orderZeroPlot(),
    ...(pages.length === 0 ? {} : { separations: separationPlot(pages) }),
  }
  for (const [name, svg] of Object.entries(plots)) writeFileSync(join(folder, `${name}.svg`), svg)
  writeFileSync(join(folder, 'index.html'), page(published, truth, plots, separations))
  const all = published.flatMap(([, rows]) => rows)
  const off =
    all.filter(row => !row.within).length +
    truth.filter(row => row.off > 0).length +
    pages.filter(one => !one.within).length +
    (randomOff > randomCount / 100 ? 1 : 0)
  console.log(
    `\n${all.length} published values, ${truth.length} groups of sweeps, ${pages.length} pages of inks, ${off} off; page in dist/report/index.html`,
  )
  return off === 0
}

const randomCount = 400

function printTruth(what: string, rows: readonly TruthRow[]): void {
  console.log(`\n${what}`)
  for (const row of rows)
    console.log(
      `  ${row.off === 0 ? 'ok  ' : `${row.off} OFF`.padEnd(4)} ${row.illuminant.padEnd(7)} lamp ${String(row.spread).padEnd(7)} max ${row.worst.toFixed(2)}  mean ${row.mean.toFixed(3)}  ${row.places} places`,
    )
}

function printPages(pages: readonly PageOfInks[]): void {
  console.log('\nplanes of ink against a separation renderer, of 255, each page by its worst ink')
  if (pages.length === 0) console.log(`  ${noSeparations}`)
  for (const { page, ink, inks, largest, allowed, mean, within, reason } of pages)
    console.log(
      `  ${within ? 'ok  ' : 'OFF '} ${page}: ${largest} of ${allowed} in ${ink}, mean ${mean.toFixed(3)} at most, ${inks} inks${reason === '' ? '' : ` [${reason}]`}`,
    )
}

const noSeparations = 'not compared: ghostscript, which is the reference, is not on this machine'

const digits = (value: number) => Number(value.toPrecision(7)).toString()

function lineOf({ what, found, value, difference, allowed, status, source }: JudgedRow): string {
  const list = (values: readonly number[]) => values.map(digits).join(' ')
  return `${what}: ${list(found)} for ${list([value].flat())}, off ${difference.toExponential(1)} of ${allowed} [${status}; ${source}]`
}

function page(
  published: readonly (readonly [string, readonly JudgedRow[]])[],
  truth: readonly TruthRow[],
  plots: Readonly<Record<'tilt' | 'efficiency' | 'order-0', string>> & { readonly separations?: string },
  separations: readonly SeparationRow[] | null,
): string {
  const cells = (tag: string, values: readonly string[]) =>
    values.map(v => `<${tag}>${escaped(v)}</${tag}>`).join('')
  const table = (heads: readonly string[], rows: readonly (readonly string[])[]) =>
    `<table><thead><tr>${cells('th', heads)}</tr></thead><tbody>${rows.map(row => `<tr>${cells('td', row)}</tr>`).join('')}</tbody></table>`
  const tables = published.map(
    ([name, rows]) =>
      `<h3>${escaped(name)}</h3>` +
      table(
        ['what', 'ours', 'published', 'off by', 'allowed', 'status', 'source'],
        rows.map(row => [
          row.what,
          row.found.map(digits).join(' '),
          [row.value].flat().map(digits).join(' '),
          `${row.within ? '' : 'OFF '}${row.difference.toExponential(1)}`,
          String(row.allowed),
          row.status,
          row.source,
        ]),
      ),
  )
  const judged = table(
    ['lamp', 'spread, rad', 'largest ΔE00', 'sweeps off', 'mean ΔE00', 'places'],
    truth.map(row => [
      row.illuminant,
      String(row.spread),
      row.worst.toFixed(2),
      String(row.off),
      row.mean.toFixed(3),
      String(row.places),
    ]),
  )
  const inks =
    separations === null
      ? `<p>${noSeparations}.</p>`
      : `<p>Pages of one feature each, and files from elsewhere, separated by ours and by ghostscript; differences of 255. An edge is where the reference steps by more than 16 within two pixels.</p>${plots.separations ?? ''}${table(separationHeads, separations.map(separationCells))}`
  return `<!doctype html>
<html lang="en"><meta charset="utf-8"><title>rakelight: optics, colour and inks held to the outside</title>
<style>
body { font: 14px/1.5 system-ui, sans-serif; margin: 2rem auto; max-width: 70rem; padding: 0 1rem; color: #222 }
table { border-collapse: collapse; margin: 0.5rem 0 1.5rem; font-size: 13px }
th, td { text-align: left; padding: 0.2rem 0.8rem 0.2rem 0; border-bottom: 1px solid #ddd; vertical-align: top }
svg { background: #fff; max-width: 100%; height: auto } svg text { font: 12px system-ui, sans-serif; fill: #222 } .grid { stroke: #e2e2e2 }
</style>
<h1>Optics, colour and inks, held to the outside</h1>
<h2>What a tilt shows</h2><p>A sinusoid of 100 nm, shown five stops down: the flash is up to 400 times as bright as paper.</p>${plots.tilt}
<h2>How bright the first order is</h2>${plots.efficiency}
<h2>What is left in the mirror order</h2><p>Silver, champagne, gold, brown: the deeper the groove, the more light the orders take.</p>${plots['order-0']}
<h2>Band samples against the sum over every nanometre</h2><p>Each sweep's peak is exposed to L* = 100; places below a thousandth of it are left out.</p>${judged}
<h2>Planes of ink against a separation renderer</h2>${inks}
<h2>Published values</h2>${tables.join('\n')}
</html>
`
}
