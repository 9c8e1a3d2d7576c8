import { beforeAll, describe, expect, test } from 'vitest'
import type { InkPage } from '../../../core/art/ink/page.ts'
import { readArt } from '../../../core/art/read.ts'
import { readSvgPage } from '../../../core/art/svg.ts'
import { memorySource } from '../../../core/base/source.ts'
import { drawingOfArt } from '../../../core/carton/read/art-drawing.ts'
import { readDie } from '../../../core/carton/read/read-die.ts'
import { readSvg } from '../../../core/carton/read/svg.ts'
import { makePlates } from '../../../core/export/plate-files.ts'
import type { MadePlates } from '../../../core/export/plate-wish.ts'
import { usualWish } from '../../../core/export/plate-wish.ts'
import { newJob } from '../../../core/job/new.ts'
import { rolesForJob } from '../../../electron/art-work.ts'
import { openPress } from '../../../electron/press.ts'
import { labelFont } from '../../support/label-font.ts'
import { pageData } from '../../support/page-data.ts'
import { readPlates } from '../../support/read-plates-pdf.ts'

/** A front of 100 × 50 mm in quarter millimetres: holography turned, white in black, a die told by its colours. */
const front = `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="50mm" viewBox="0 0 400 200">
<g id="Holo rings" transform="translate(20,20) rotate(10)"><path d="M10 10 A 40 30 20 1 0 90 90 Z" fill="#c33"/></g>
<g id="White"><circle cx="200" cy="100" r="40"/></g>
<g id="Dieline"><rect x="4" y="4" width="392" height="192" fill="none" stroke="#f0f"/><path d="M4 100H396" stroke="#00f"/></g>
<text x="20" y="160" font-size="20">Halden</text>
</svg>`

const source = () => memorySource('front.svg', new TextEncoder().encode(front))
let made: MadePlates
let outlines: InkPage
beforeAll(async () => {
  const file = await readArt(source(), { shipped: pageData })
  const { press } = await openPress({ intent: 'relative', blackPoint: false })
  const assigned = await rolesForJob(file, { aliases: [], roles: [] })
  const job = newJob(file.art, 'ab'.repeat(32), 'front.svg', assigned)
  made = await makePlates({
    file,
    job,
    options: { ...job, assigned, press },
    wish: { ...usualWish, bleedMm: 0, formats: ['pdf', 'svg'] },
    label: { jobName: 'front', program: '0.1.0', version: 'ab12cd34', madeAt: '2026-11-30T16:00:00.000Z' },
    labelFont,
  })
  const svg = made.files.find(({ name }) => name.endsWith('.svg'))!
  outlines = await readSvgPage(memorySource('outlines.svg', svg.bytes))
})

const path = (name: string) => {
  const layer = outlines.layers.findIndex(one => one.name === name)
  const mark = outlines.marks.find(one => one.layer === layer)
  if (mark?.kind !== 'stroke') throw new Error(`${name}: expected an outline`)
  const { points } = mark.path
  return Array.from({ length: points.length / 2 }, (_, i) => [points[2 * i]!, points[2 * i + 1]!] as const)
}

describe('a drawing with white in black and a die in colours', () => {
  test('its white goes out as the circle that it is', () => {
    // Four cubic curves, each point of them 10 mm or, of a control point, at most √(1 + 0.5523²) of that from the middle.
    const points = path('White')
    expect(points.length).toBeLessThanOrEqual(14)
    const [right, left] = [Math.max(...points.map(([x]) => x)), Math.min(...points.map(([x]) => x))]
    expect(right - left).toBeCloseTo(20, 3)
    for (const [x, y] of points) {
      const away = Math.hypot(x - (left + right) / 2, y - 24)
      expect(Math.min(Math.abs(away - 10), Math.abs(away - 10 * Math.hypot(1, 0.5523)))).toBeLessThan(0.005)
    }
  })

  test('its die is the one that the drawing alone would be read as', async () => {
    const art = await readArt(source(), { shipped: pageData })
    const kinds = (lines: readonly { readonly kind: string }[]) => lines.map(({ kind }) => kind).toSorted()
    const alone = readDie(readSvg(new TextEncoder().encode(front), 'front.svg'), { caliperMm: 0.4 })
    const asArt = readDie(drawingOfArt(art.art), { caliperMm: 0.4 })
    expect([asArt.widthMm, asArt.heightMm]).toEqual([98, 48].map(mm => expect.closeTo(mm, 6)))
    expect([asArt.widthMm, asArt.heightMm]).toEqual(
      [alone.widthMm, alone.heightMm].map(mm => expect.closeTo(mm, 6)),
    )
    expect(kinds(asArt.die.lines)).toEqual(kinds(alone.die.lines))
    expect(made.findings.map(({ code }) => code)).not.toContain('dieline-missing')
  })

  test('of live type, whose letters the drawing does not have, the box goes out and is said to be one', () => {
    const svg = new TextDecoder().decode(made.files.find(({ name }) => name.endsWith('.svg'))!.bytes)
    expect(svg).toContain('<desc>RKLT_Outline RKLT_Type, the box that it is set in</desc>')
    expect(svg).toContain('<desc>RKLT_Outline RKLT_White, as it is drawn</desc>')
  })

  test('its file of plates has both in steps of their own', async () => {
    const { layers } = await readPlates(made.files[0]!.bytes)
    const steps = layers.map(({ group, type }) => `${group} ${type}`)
    expect(steps).toEqual(expect.arrayContaining(['Structural Cutting', 'Structural Creasing', 'White null']))
  })
})
