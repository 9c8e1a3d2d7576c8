import { beforeAll, describe, expect, test } from 'vitest'
import type { Mark } from '../../../core/art/ink/mark.ts'
import type { InkPage } from '../../../core/art/ink/page.ts'
import { moved } from '../../../core/art/ink/path.ts'
import type { Path } from '../../../core/art/path.ts'
import { readInkPage } from '../../../core/art/pdf/read-page.ts'
import { readArt } from '../../../core/art/read.ts'
import { readSvgPage } from '../../../core/art/svg.ts'
import { memorySource } from '../../../core/base/source.ts'
import { makePlates } from '../../../core/export/plate-files.ts'
import { usualWish } from '../../../core/export/plate-wish.ts'
import { newJob } from '../../../core/job/new.ts'
import { assignRoles } from '../../../core/roles/assign.ts'
import type { RoleName } from '../../../core/roles/role.ts'
import { rolesForJob } from '../../../electron/art-work.ts'
import { openPress } from '../../../electron/press.ts'
import { labelFont } from '../../support/label-font.ts'
import { pageData } from '../../support/page-data.ts'
import { circle, separation, spots } from '../../support/pdf-pages/spaces.ts'
import { onePage } from '../../support/pdf-write.ts'

/** Points on a millimetre. */
const mm = 72 / 25.4
const step = (group: string, type = '') =>
  `/GTS_Metadata << /GTS_ProcStepsGroup /${group} ${type === '' ? '' : `/GTS_ProcStepsType /${type}`} >>`

/** A panel of 70 × 50 mm with 5 mm of bleed, drawn in mm: every layer in paths. */
const drawing = () =>
  onePage(pdf => {
    const layers = {
      Art: '',
      Holo: step('Positions', 'Hologram'),
      White: step('White'),
      Glue: step('Structural', 'Gluing'),
      Date: step('Positions', 'CodingMarking'),
      Cut: step('Structural', 'Cutting'),
      Crease: step('Structural', 'Creasing'),
    }
    const refs = Object.entries(layers).map(
      ([name, more]) =>
        [name, pdf.add(`<< /Type /OCG /Name (${name === 'Holo' ? 'Holo comet' : name}) ${more} >>`)] as const,
    )
    const all = refs.map(([, ref]) => ref).join(' ')
    return {
      page: `/MediaBox [0 0 ${80 * mm} ${60 * mm}] /BleedBox [0 0 ${80 * mm} ${60 * mm}] /TrimBox [${5 * mm} ${5 * mm} ${75 * mm} ${55 * mm}]`,
      catalog: `/OCProperties << /OCGs [${all}] /D << /Order [${all}] >> >>`,
      resources: `/ColorSpace << ${spots} /D ${separation('Die', [0, 1, 0, 0])} /G ${separation('Glue', [0, 0, 1, 0])} >> /Properties << ${refs.map(([name, ref]) => `/${name} ${ref}`).join(' ')} >> /ExtGState << /Over << /OP true /op true /OPM 1 >> >>`,
      content: [
        `${mm} 0 0 ${mm} 0 0 cm /Over gs`,
        '/OC /Art BDC 0.8 0.4 0 0 k 0 0 80 60 re f EMC',
        `/OC /Holo BDC /H cs 1 scn ${circle(20.123, 30.456, 8)} ${circle(20.123, 30.456, 3.3)} f* 40 12 m 55 8.25 62 20 70.5 33.3 c 60 30 50 24 40 12 c h f EMC`,
        `/OC /White BDC /W cs 1 scn ${circle(50.01, 40.02, 6.5)} f 10.5 8.2 12.25 4.125 re f EMC`,
        '/OC /Glue BDC /G cs 1 scn 6 48 20 6 re f EMC',
        '/OC /Date BDC /D cs 1 scn 60 42 12.7 5.08 re f EMC',
        '/OC /Cut BDC /D CS 1 SCN 0.25 w 5 5 m 75 5 l 75 55 l 48 55 l 48 50.58 44.42 47 40 47 c 35.58 47 32 50.58 32 55 c 5 55 l h S EMC',
        '/OC /Crease BDC /D CS 1 SCN 0.25 w 40 5 m 40 47 l S EMC',
      ].join('\n'),
    }
  })

let before: InkPage
let after: InkPage
let svg: InkPage
/** Of the layers of the plates, read again. */
const roles = new Map<string, RoleName>()
beforeAll(async () => {
  const first = memorySource('panel.pdf', drawing())
  before = await readInkPage(first, {}, pageData)
  const file = await readArt(first, { shipped: pageData })
  const { press } = await openPress({ intent: 'relative', blackPoint: false })
  const assigned = await rolesForJob(file, { aliases: [], roles: [] })
  const job = newJob(file.art, 'ab'.repeat(32), 'panel.pdf', assigned)
  const made = await makePlates({
    file,
    job,
    options: { ...job, assigned, press },
    // As much bleed as the art has: both pages then have one lower left corner.
    wish: { ...usualWish, marks: false, bleedMm: 5, formats: ['pdf', 'svg'] },
    labelFont,
    label: { jobName: 'panel', program: '0.1.0', version: 'ab12cd34', madeAt: '2026-11-30T16:00:00.000Z' },
  })
  const written = (ending: string) => made.files.find(({ name }) => name.endsWith(ending))!.bytes
  const plates = memorySource('plates.pdf', written('.pdf'))
  after = await readInkPage(plates, {}, pageData)
  const { art } = await readArt(plates, { shipped: pageData })
  const names = new Map(art.layers.map(({ id, name }) => [id, name]))
  for (const { target, role } of assignRoles(art, { aliases: [], choices: [] }))
    if (target.kind === 'layer') roles.set(names.get(target.id)!, role)
  svg = await readSvgPage(memorySource('outlines.svg', written('.svg')))
}, 120_000)

/** Places of all paths of a layer, mm, as they were drawn: groups and all. */
function places(page: InkPage, name: string): readonly (readonly [number, number])[] {
  const layer = page.layers.findIndex(one => one.name === name)
  const found: [number, number][] = []
  const add = ({ points }: Path) => {
    for (let i = 0; i < points.length; i += 2) found.push([points[i]!, points[i + 1]!])
  }
  const visit = (mark: Mark) => {
    if (mark.kind === 'group') mark.marks.forEach(visit)
    else if (mark.layer === layer) add(mark.kind === 'stroke' ? moved(mark.path, mark.matrix) : mark.path)
  }
  page.marks.forEach(visit)
  return found
}

/** Largest way from a place of one list to the nearest of the other, both ways, mm. */
function apart(a: ReturnType<typeof places>, b: ReturnType<typeof places>): number {
  const way = (from: typeof a, to: typeof a) =>
    Math.max(...from.map(([x, y]) => Math.min(...to.map(([u, v]) => Math.hypot(x - u, y - v)))))
  return Math.max(way(a, b), way(b, a))
}

// Within five micrometres: holography is originated from outlines, and a plotter steps by ten.
describe('outlines from a PDF to a job to a PDF', () => {
  test.each([
    ['Holo comet', 'Holo comet'],
    ['Holo comet', 'Hologram'],
    ['White', 'White outline'],
    ['Glue', 'Gluing'],
    ['Date', 'CodingMarking'],
    ['Cut', 'Cutting'],
    ['Crease', 'Creasing'],
  ])('%s, in the layer %s', (drawn, written) => {
    const own = places(before, drawn)
    expect(own.length).toBeGreaterThan(1)
    expect(apart(own, places(after, written))).toBeLessThan(0.005)
  })

  test.each(['Holo comet', 'White', 'Glue', 'Date', 'Cut', 'Crease'])('%s, as SVG', name => {
    expect(apart(places(before, name), places(svg, name))).toBeLessThan(0.005)
  })

  test('read again, the map is the holography, and its position no second one', () => {
    expect(roles.get('Holo comet')).toBe('holography')
    expect(roles.get('Hologram')).toBe('legend')
    expect(roles.get('White outline')).toBe('legend')
    expect(roles.get('Cutting')).toBe('dieline')
    expect(roles.get('Gluing')).toBe('glueZone')
  })

  test('curves stay curves', () => {
    expect(places(after, 'Holo comet')).toHaveLength(places(before, 'Holo comet').length)
    expect(places(after, 'Cutting')).toHaveLength(places(before, 'Cut').length)
  })

  test('steps, boxes and inks are what they were', () => {
    const steps = after.layers.map(({ name, step }) => [name, step?.group ?? null, step?.type ?? null])
    expect(steps).toEqual(
      expect.arrayContaining([
        ['Holo comet', 'RKLT_HoloMap', null],
        ['Hologram', 'Positions', 'Hologram'],
        ['White', 'White', null],
        ['Gluing', 'Structural', 'Gluing'],
        ['CodingMarking', 'Positions', 'CodingMarking'],
        ['Cutting', 'Structural', 'Cutting'],
        ['Creasing', 'Structural', 'Creasing'],
      ]),
    )
    const near = (box: readonly number[] | null) => box!.map(side => expect.closeTo(side, 2))
    expect(after.boxes.trim).toEqual(near(before.boxes.trim))
    expect([after.widthMm, after.heightMm]).toEqual(near([before.widthMm, before.heightMm]))
    expect(after.inks.map(({ name }) => name)).toEqual(expect.arrayContaining(['White', 'Holo comet']))
  })
})
