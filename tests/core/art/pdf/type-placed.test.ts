import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { pathStep } from '../../../../core/art/ink/mark.ts'
import { readInkPage } from '../../../../core/art/pdf/read-page.ts'
import { memorySource } from '../../../../core/base/source.ts'
import { pageData } from '../../../support/page-data.ts'
import { pdfPages } from '../../../support/pdf-pages.ts'
import { hasTool } from '../../../support/tools.ts'

// Type as an independent reader places it: pdftocairo of poppler-utils writes every glyph as an outline and where it stands.

const folder = mkdtempSync(join(tmpdir(), 'type-'))
afterAll(() => rmSync(folder, { recursive: true }))

/** Around a contour, points of the page, y down. */
type Bounds = readonly [left: number, top: number, right: number, bottom: number]

function boundsOf(points: readonly (readonly [number, number])[]): Bounds {
  const xs = points.map(([x]) => x)
  const ys = points.map(([, y]) => y)
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
}

/** Around every contour of a glyph, by the outlines and places of the other reader. */
function othersContours(pdf: string): readonly Bounds[] {
  const svg = join(folder, 'page.svg')
  execFileSync('pdftocairo', ['-svg', pdf, svg])
  const text = readFileSync(svg, 'utf8')
  const outlines = new Map<string, readonly (readonly (readonly [number, number])[])[]>()
  for (const [, id, d] of text.matchAll(/<symbol[^>]* id="(glyph[\d-]+)">\s*<path[^>]* d="([^"]*)"/g)) {
    const contours = d!
      .split('M')
      .slice(1)
      .map(part => {
        const numbers = [...part.matchAll(/-?[\d.]+/g)].map(Number)
        return numbers.flatMap((x, i) => (i % 2 === 0 ? [[x, numbers[i + 1]!] as const] : []))
      })
    outlines.set(
      id!,
      contours.filter(({ length }) => length > 1),
    )
  }
  return [...text.matchAll(/<use xlink:href="#(glyph[\d-]+)" x="(-?[\d.]+)" y="(-?[\d.]+)"/g)].flatMap(
    ([, id, x, y]) =>
      outlines
        .get(id!)!
        .map(contour => boundsOf(contour.map(([dx, dy]) => [Number(x) + dx, Number(y) + dy]))),
  )
}

/** The same as it is read here. */
async function ownContours(
  bytes: Uint8Array,
): Promise<{ bounds: readonly Bounds[]; text: readonly string[] }> {
  const page = await readInkPage(memorySource('type.pdf', bytes), {}, pageData)
  const bounds: Bounds[] = []
  const text: string[] = []
  const toPoints = 72 / 25.4
  for (const mark of page.marks) {
    if (mark.kind !== 'fill' || mark.text === null) continue
    text.push(mark.text.value)
    let points: (readonly [number, number])[] = []
    const finish = (): void => {
      if (points.length > 1) bounds.push(boundsOf(points))
      points = []
    }
    let at = 0
    for (const step of mark.path.steps) {
      if (step === pathStep.move) finish()
      const count = step === pathStep.close ? 0 : step === pathStep.curve ? 3 : 1
      for (let i = 0; i < count; i++, at += 2)
        points.push([
          mark.path.points[at]! * toPoints,
          (page.heightMm - mark.path.points[at + 1]!) * toPoints,
        ])
    }
    finish()
  }
  return { bounds, text }
}

/** The other reader's outlines are in 64ths of a point. */
const near = 0.05

/** Every contour of one list has its own in the other. */
function expectSamePlaces(own: readonly Bounds[], others: readonly Bounds[]): void {
  expect(own.length).toBe(others.length)
  const left = [...others]
  for (const bounds of own) {
    const distance = (other: Bounds): number =>
      Math.max(...bounds.map((value, i) => Math.abs(value - other[i]!)))
    const nearest = left.reduce((best, other) => (distance(other) < distance(best) ? other : best))
    expect(distance(nearest)).toBeLessThan(near)
    left.splice(left.indexOf(nearest), 1)
  }
}

test.skipIf(!hasTool('pdftocairo', '-v'))(
  'every glyph of TrueType fonts lies where pdftocairo has it: spacing, scale, rise, slant, lines, glyph numbers',
  async () => {
    for (const name of ['embedded type', 'type by glyph numbers'] as const) {
      const bytes = pdfPages[name]()
      const pdf = join(folder, 'page.pdf')
      writeFileSync(pdf, bytes)
      const { bounds, text } = await ownContours(bytes)
      expect(bounds.length).toBeGreaterThan(3)
      expectSamePlaces(bounds, othersContours(pdf))
      if (name === 'embedded type') expect(text).toEqual(['Halden', 'EP 12 a', 'x', 'lens', 'kit'])
    }
  },
)

test.skipIf(!hasTool('pdftocairo', '-v') || !hasTool('gs', '--version'))(
  'so do glyphs of the fonts that gs puts into a file: Type 1, and CFF',
  async () => {
    const drawing = join(folder, 'page.ps')
    writeFileSync(
      drawing,
      '%!PS\n<< /PageSize [200 120] >> setpagedevice /NimbusRoman-Italic findfont 28 scalefont setfont 10 70 moveto (Comet \\(2\\)) show /NimbusSans-Bold findfont [30 4 -6 26 0 0] makefont setfont 12 20 moveto (Halden fi) show showpage\n',
    )
    // Version 1.1 of PDF has no CFF yet, so that fonts stay Type 1.
    for (const [level, kind] of [
      ['1.1', '/FontFile '],
      ['1.7', '/Type1C'],
    ] as const) {
      const pdf = join(folder, `page-${level}.pdf`)
      execFileSync('gs', [
        ...['-q', '-dNOPAUSE', '-dBATCH', '-sDEVICE=pdfwrite', `-dCompatibilityLevel=${level}`],
        ...[
          '-dEmbedAllFonts=true',
          '-dSubsetFonts=true',
          '-dCompressFonts=false',
          `-sOutputFile=${pdf}`,
          drawing,
        ],
      ])
      const bytes = new Uint8Array(readFileSync(pdf))
      expect(readFileSync(pdf, 'latin1')).toContain(kind)
      const { bounds, text } = await ownContours(bytes)
      expect(text.join('')).toBe('Comet (2)Halden fi')
      expectSamePlaces(bounds, othersContours(pdf))
    }
  },
)
