import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { paintPage } from '../../../core/art/ink/raster.ts'
import { readInkPage } from '../../../core/art/pdf/read-page.ts'
import { memorySource } from '../../../core/base/source.ts'
import { displayProfile } from '../../../core/color/icc-write.ts'
import { pageData } from '../../support/page-data.ts'
import { photo } from '../../support/pdf-pages/pictures.ts'
import { type PdfPageName, pdfPages } from '../../support/pdf-pages.ts'
import { allowedDifference } from '../../support/separations.ts'
import { hasTiffsep, tiffsep } from '../../support/tiffsep.ts'
import { hasTool } from '../../support/tools.ts'

// Pages whose planes lie further than 2/255 from the separation renderer's (tests/support/separations.ts): here each is
// held to the exact value instead.

const [width, height] = [360, 240]
type Plane = (ink: string) => Uint8Array

/** Planes of a page, 2 pixels a point. */
async function planesOf(name: PdfPageName): Promise<Plane> {
  const page = await readInkPage(memorySource('page.pdf', pdfPages[name]()), {}, pageData)
  const { inks } = paintPage(page, { widthPx: width, heightPx: height })
  return ink => inks[page.inks.findIndex(one => one.name === ink)]!
}

type Box = readonly [left: number, bottom: number, right: number, top: number]

/** How far a plane lies from amounts at the middles of pixels at most, of 255, 1.5 points inside a box. NaN: not judged. */
function furthest(
  plane: Uint8Array,
  [left, bottom, right, top]: Box,
  exact: (x: number, y: number) => number,
) {
  let most = 0
  for (let i = 0; i < plane.length; i++) {
    const x = ((i % width) + 0.5) / 2
    const y = (height - Math.floor(i / width) - 0.5) / 2
    if (x < left + 1.5 || x > right - 1.5 || y < bottom + 1.5 || y > top - 1.5) continue
    const amount = exact(x, y)
    if (!Number.isNaN(amount)) most = Math.max(most, Math.abs(plane[i]! - 255 * amount))
  }
  return most
}
/** Bytes of the exact values, and 2 % of one for amounts that are kept as 32-bit floats. */
const rounded = 0.52

const mix = (from: number, to: number, t: number) => from + (to - from) * t
const part = (t: number) => Math.min(1, Math.max(0, t))

// ISO 32000-2, 8.7.4.5.3 with functions of 7.10.3 and 7.10.4, worked out for what the page says.
const axial: readonly (readonly [ink: string, box: Box, exact: (x: number, y: number) => number])[] = [
  ...(
    [
      ['Cyan', 1, 0],
      ['Magenta', 0, 0.8],
      ['Yellow', 0, 0.3],
      ['Black', 0.1, 0],
    ] as const
  ).map(
    ([ink, from, to]) =>
      [
        ink,
        [5, 65, 85, 115] as Box,
        (x: number, y: number) => mix(from, to, part(((x - 10) * 70 + (y - 65) * 50) / (70 ** 2 + 50 ** 2))),
      ] as const,
  ),
  [
    'White',
    [105, 65, 175, 115],
    x => {
      const t = part((x - 105) / 60)
      // Where two functions meet a pixel is between them.
      if (Math.abs(t - 0.4) < 0.02) return Number.NaN
      return t < 0.4 ? t / 0.4 : mix(1, 0.2, (t - 0.4) / 0.6)
    },
  ],
  ['Cyan', [5, 5, 85, 55], x => (x - 5) / 80],
  ['Holo foil', [5, 5, 85, 55], x => mix(0.9, 0.1, ((x - 5) / 80) ** 2)],
  ['Comet orange', [100, 10, 160, 50], (_, y) => 1 - ((y - 5) / 50) ** 1.5],
]

describe('exact values of pages that lie far from the separation renderer', () => {
  test('axial shadings: ours are those of the formula', async () => {
    const plane = await planesOf('axial shadings')
    for (const [ink, box, exact] of axial)
      expect([ink, furthest(plane(ink), box, exact) < rounded]).toEqual([ink, true])
  })

  test.skipIf(!hasTiffsep)('axial shadings of spot inks: the renderer strays from the formula (gs)', () => {
    const { planes } = tiffsep(pdfPages['axial shadings'](), 144)
    for (const [ink, box, exact] of axial.slice(-2))
      expect(furthest(planes.get(ink)!, box, exact)).toBeGreaterThan(allowedDifference)
  })

  test('a shading of a function: ours are those of the formula', async () => {
    const plane = await planesOf('shading of a function')
    const [a, b, c, d, e, f] = [150, 20, -10, 90, 15, 5]
    const within = (value: (u: number, v: number) => number) => (x: number, y: number) => {
      const u = (d * (x - e) - c * (y - f)) / (a * d - b * c)
      const v = (a * (y - f) - b * (x - e)) / (a * d - b * c)
      return Math.min(u, v) > 0.005 && Math.max(u, v) < 0.995 ? value(u, v) : Number.NaN
    }
    const box: Box = [10, 10, 170, 110]
    expect(
      furthest(
        plane('Magenta'),
        box,
        within((u, v) => u * v),
      ),
    ).toBeLessThan(rounded)
    expect(
      furthest(
        plane('White'),
        box,
        within((u, v) => (u + v) / 2),
      ),
    ).toBeLessThan(rounded)
  })

  // Little CMS by its own program, at full precision (-c0): relative, black point compensated.
  test.skipIf(!hasTool('transicc', '-h'))('images with profiles: ours are those of transicc', async () => {
    const plane = await planesOf('images with profiles')
    const folder = mkdtempSync(join(tmpdir(), 'rakelight-beyond-'))
    try {
      const srgb = join(folder, 'srgb.icc')
      writeFileSync(srgb, displayProfile('srgb'))
      const samples = Array.from({ length: 96 }, (_, i) => {
        const [x, y] = [i % 12, Math.floor(i / 12)]
        return [(255 * x) / 11, (255 * y) / 7, (x * 37 + y * 71) % 256].map(Math.round)
      })
      for (const [image, from] of [srgb, '*sRGB', '*Lab4'].entries()) {
        const asked = samples.map(([a, b, c]) =>
          from === '*Lab4' ? [a! / 2.55, b! - 128, c! - 128] : [a, b, c],
        )
        const said = execFileSync(
          'transicc',
          ['-v0', '-c0', '-t1', '-b', `-i${from}`, '-ocore/data/icc/ISOcoated_v2_300_bas.icc'],
          {
            input: `${asked.map(row => row.join(' ')).join('\n')}\n`,
            encoding: 'utf8',
            stdio: ['pipe', 'pipe', 'ignore'],
          },
        )
        const inks = said.split('\n').flatMap(line => {
          const numbers = line.match(/\d+\.\d+/g)
          return numbers?.length === 4 ? [numbers.map(Number)] : []
        })
        expect(inks).toHaveLength(96)
        for (const [k, ink] of ['Cyan', 'Magenta', 'Yellow', 'Black'].entries()) {
          const differences = inks.map((row, i) => {
            const x = 4 + 60 * image + (((i % 12) + 0.5) * 52) / 12
            const y = 120 - 112 + ((Math.floor(i / 12) + 0.5) * 104) / 8
            return Math.abs(plane(ink)[Math.floor(2 * y) * width + Math.floor(2 * x)]! - 2.55 * row[k]!)
          })
          expect([ink, Math.max(...differences) < rounded]).toEqual([ink, true])
        }
      }
    } finally {
      rmSync(folder, { recursive: true, force: true })
    }
  })

  // A decoder may choose how it does the inverse transform: two ways of one library differ by as much as ours from them.
  test.skipIf(!hasTool('convert', '-version'))('jpeg of cmyk: ours lie as near as decoders do', async () => {
    const plane = await planesOf('jpeg of cmyk')
    const jpeg = Uint8Array.from(atob(photo.join('')), letter => letter.charCodeAt(0))
    const decoded = (way: 'islow' | 'float') =>
      execFileSync('convert', [...['-define', `jpeg:dct-method=${way}`], 'jpeg:-', '-depth', '8', 'cmyk:-'], {
        input: jpeg,
        stdio: ['pipe', 'pipe', 'ignore'],
      })
    const [whole, float] = [decoded('islow'), decoded('float')]
    expect(float).toHaveLength(48 * 32 * 4)
    let [between, ours, sum] = [0, 0, 0]
    for (const [k, ink] of ['Cyan', 'Magenta', 'Yellow', 'Black'].entries())
      for (let i = 0; i < 48 * 32; i++) {
        const x = 4 + (((i % 48) + 0.5) * 82) / 48
        const y = 8 + ((Math.floor(i / 48) + 0.5) * 104) / 32
        const own = plane(ink)[Math.floor(2 * y) * width + Math.floor(2 * x)]!
        between = Math.max(between, Math.abs(whole[4 * i + k]! - float[4 * i + k]!))
        ours = Math.max(ours, Math.abs(own - float[4 * i + k]!))
        sum += Math.abs(own - float[4 * i + k]!)
      }
    expect(between).toBeGreaterThan(allowedDifference)
    expect(ours).toBeLessThanOrEqual(between)
    expect(sum / (48 * 32 * 4)).toBeLessThan(0.5)
  })
})
