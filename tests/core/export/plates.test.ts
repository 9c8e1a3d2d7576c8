import { beforeAll, describe, expect, test } from 'vitest'
import type { Art, ArtFile } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import type { Finding } from '../../../core/base/finding.ts'
import { memorySource } from '../../../core/base/source.ts'
import { cartonBlank } from '../../../core/carton/carton.ts'
import type { SeparateOptions } from '../../../core/export/ink-plate.ts'
import { PackedPlane } from '../../../core/export/packed-plane.ts'
import { plateNames } from '../../../core/export/plate-names.ts'
import { plateSheet } from '../../../core/export/plate-sheet.ts'
import { type Separated, separate } from '../../../core/export/plates.ts'
import type { Job } from '../../../core/job/job.ts'
import { newJob } from '../../../core/job/new.ts'
import { opacityOf, scatterOf } from '../../../core/optics/white.ts'
import { rolesForJob } from '../../../electron/art-work.ts'
import { openPress } from '../../../electron/press.ts'
import { dieMm, drawn, plateArt, plateSize, varnishPx, type WedgeInk } from '../../support/plate-art.ts'

let file: ArtFile
let job: Job
let options: SeparateOptions
let separated: Separated

beforeAll(async () => {
  file = await readArt(memorySource('wedge.psd', plateArt()))
  const assigned = await rolesForJob(file, { aliases: [], roles: [] })
  const { press } = await openPress({ intent: 'relative', blackPoint: false })
  job = newJob(file.art, 'ab'.repeat(32), 'wedge.psd', assigned)
  options = { ...job, assigned, press }
  separated = await separate(file, options)
})

/** The same pixels, said to be something else. */
const withArt = (art: Art): ArtFile => ({
  art,
  layerPlane: (...of) => file.layerPlane(...of),
  maskPlane: id => file.maskPlane(id),
  vectorMaskPlane: id => file.vectorMaskPlane(id),
  documentPlane: (...of) => file.documentPlane(...of),
})

const plate = (name: string) => {
  const found = separated.plates.find(one => one.name === name)
  if (!found) throw new Error(`no plate ${name}: ${separated.plates.map(one => one.name)}`)
  return found
}

describe('plates of the art', () => {
  test('are laid down white first, inks, varnish last', () => {
    expect(separated.plates.map(({ name, kind, group }) => [name, kind, group])).toEqual([
      ['White', 'white', 'white'],
      ['Cyan', 'process', 'inks'],
      ['Magenta', 'process', 'inks'],
      ['Yellow', 'process', 'inks'],
      ['Black', 'process', 'inks'],
      ['Comet orange', 'spot', 'inks'],
      ['Varnish', 'varnish', 'varnish'],
    ])
    expect(separated.empty).toEqual([])
  })

  test('have the samples of the file, every one, on its own pixels', () => {
    for (const name of ['Cyan', 'Magenta', 'Yellow', 'Black', 'White', 'Comet orange'] as WedgeInk[]) {
      const { plane } = plate(name)
      expect([plane.width, plane.height]).toEqual([plateSize.width, plateSize.height])
      const rows = plane.rows(0, plane.height)
      let worst = 0
      rows.forEach((value, i) => {
        const there = drawn(name, i % plane.width, Math.floor(i / plane.width))
        worst = Math.max(worst, Math.abs(value - there))
      })
      expect([name, worst]).toEqual([name, 0])
    }
  })

  test('say how much of the art they cover', () => {
    const [left, top, right, bottom] = varnishPx
    const part = ((right - left) * (bottom - top)) / (plateSize.width * plateSize.height)
    expect(plate('Varnish').coverage).toBeCloseTo(part, 9)
    expect(plate('Varnish').printed).toBeCloseTo(part, 9)
    // A sixth of the rows; the wedge has 0.5 in the mean, and one of its 24 steps is bare.
    expect(plate('Cyan').coverage).toBeCloseTo(1 / 12, 3)
    expect(plate('Cyan').printed).toBeCloseTo((1 / 6) * (23 / 24), 9)
  })

  test('white has the opacity of all its hits, spot inks the colour of the file', async () => {
    const target = { kind: 'channel', id: file.art.channels[0]!.id } as const
    const white = { mottle: 0, screen: 'dots', toneGain: 0.2 } as const
    const two = await separate(file, {
      ...options,
      whites: [{ ...white, target, opacity: { from: 'contrast', value: 0.6 }, hits: 2 }],
    })
    const [first] = two.plates
    expect(first).toMatchObject({ name: 'White', hits: 2, step: { group: 'White' } })
    // Hits add their scattering strength (two-sheet law, as the optics has it).
    expect(first!.opacity).toBeCloseTo(opacityOf(2 * scatterOf(0.6)), 9)
    // What the press makes of tones is not in a plate.
    expect(first!.plane.rows(170, 171)).toEqual(plate('White').plane.rows(170, 171))
    expect(plate('Comet orange').alternate).toEqual({ space: 'Lab', values: [65, 50, 70] })
  })

  test('a spot ink that was measured has the colour of its spectrum', async () => {
    // A surface that throws back half of every wavelength is a grey of Y = 0.5: L* = 116 · 0.5^(1/3) − 16 = 76.07.
    const target = { kind: 'channel', id: file.art.channels[1]!.id } as const
    const spectrum = { startNm: 380, stepNm: 10, values: Array.from({ length: 41 }, () => 0.5) }
    const { plates } = await separate(file, { ...options, spots: [{ target, lab: null, spectrum }] })
    const spot = plates.find(({ name }) => name === 'Comet orange')!
    expect(spot.alternate.space).toBe('Lab')
    expect([...spot.alternate.values]).toEqual([76.07, 0, 0].map(value => expect.closeTo(value, 2)))
  })

  test('two varnishes are two plates, and more than four whites are as many', async () => {
    const again = (role: 'varnish' | 'white') =>
      options.assigned.map(one => (one.target.kind === 'layer' ? { ...one, role } : one))
    const varnished = await separate(file, { ...options, assigned: again('varnish') })
    expect(varnished.plates.filter(({ kind }) => kind === 'varnish').map(({ name }) => name)).toEqual([
      'Holo comet',
      'Overprint',
      'Varnish',
    ])
    const white = await separate(file, { ...options, assigned: again('white') })
    expect(white.plates.filter(({ kind }) => kind === 'white')).toHaveLength(4)
    expect(white.empty).toEqual(['Cyan', 'Magenta', 'Yellow', 'Black'])
    expect(white.findings.map(({ code }) => code)).toContain('white-opacity-assumed')
  })

  test('RGB is separated, and that is said', async () => {
    const rgb = withArt({ ...file.art, colorMode: 'RGB' })
    const { findings } = await separate(rgb, options)
    expect(findings.map(({ code }) => code)).toContain('separated')
  })

  test('blends are said to be worked in', async () => {
    const layers = file.art.layers.map(layer =>
      layer.name === 'Overprint' ? { ...layer, blendMode: 'multiply' } : layer,
    )
    const { findings } = await separate(withArt({ ...file.art, layers }), options)
    expect(findings.map(({ code }) => code)).toContain('blend-flattened')
    expect(separated.findings.map(({ code }) => code)).not.toContain('blend-flattened')
  })

  test('stop when they are told to', async () => {
    const stop = new AbortController()
    stop.abort()
    await expect(separate(file, options, { signal: stop.signal })).rejects.toThrow('cancelled')
  })
})

describe('names of separations', () => {
  // ISO 32000-2, 8.6.6.4: All and None have meanings of their own, and so have the process inks.
  test('none is reserved, empty or there twice', () => {
    const findings: Finding[] = []
    expect(
      plateNames(['White', 'white', 'All', ' Cyan ', '', 'Star\nblue', 'Cutting', 'Weiß'], findings),
    ).toEqual(['White', 'white 2', 'All ink', 'Cyan ink', 'Plate', 'Star blue', 'Cutting ink', 'Weiß'])
    expect(findings.map(({ code }) => code)).toEqual(Array.from({ length: 6 }, () => 'plate-renamed'))
  })

  test('a name is no longer than PDF allows', () => {
    const [name] = plateNames(['星'.repeat(100)], [])
    expect(new TextEncoder().encode(name).length).toBeLessThanOrEqual(127)
  })
})

describe('the sheet', () => {
  test('of art that draws its own die is the die, and what lies past it is bleed', () => {
    const sheet = plateSheet(job, file.art, 3)
    expect(sheet.trim[0]).toBeCloseTo(dieMm.right - dieMm.left, 3)
    expect(sheet.trim[1]).toBeCloseTo(dieMm.top - dieMm.bottom, 3)
    expect(sheet.arts).toHaveLength(1)
    expect(sheet.arts[0]!.at[0]).toBeCloseTo(-dieMm.left, 3)
    expect(sheet.arts[0]!.at[1]).toBeCloseTo(-dieMm.bottom, 3)
    expect(sheet.bleed.map(side => Number(side.toFixed(2)))).toEqual([3, 2, 3, 2])
    expect(sheet.findings.map(({ code }) => code)).toEqual(['bleed-short'])
    expect(plateSheet(job, file.art, 1.5).findings).toEqual([])
  })

  test('of a carton is its blank; art on one panel is cut to that and its bleed', () => {
    const carton = {
      form: {
        from: 'sizes',
        top: { kind: 'open' },
        bottom: { kind: 'open' },
        lengthMm: 30,
        widthMm: 15,
        heightMm: 20,
        measure: 'crease',
        own: {},
        code: '',
      },
      fold: { amount: 0, own: {} },
      arts: [{ panel: 'front', xMm: 0, yMm: 0 }],
    } satisfies Job['carton']
    const sheet = plateSheet({ ...job, carton }, file.art, 2)
    expect(sheet.die?.lines.length).toBeGreaterThan(4)
    const [art] = sheet.arts
    const ys = art!.clip!.flat().map(([, y]) => y)
    const xs = art!.clip!.flat().map(([x]) => x)
    // Above and below is nothing but waste: bleed. Beside it are panels, which are not printed over.
    expect(Math.min(...ys)).toBeCloseTo(-2, 2)
    expect(Math.max(...ys)).toBeCloseTo(22, 2)
    const front = cartonBlank({ ...carton.form, caliperMm: job.board.caliperMm })
      .panels.find(({ name }) => name === 'front')!
      .outline.map(([x]) => x)
    const besides = art!.clip!.flat().filter(([, y]) => y > 0.1 && y < 19.9)
    for (const [x] of besides) {
      expect(x).toBeGreaterThan(Math.min(...front) - 1e-3)
      expect(x).toBeLessThan(Math.max(...front) + 1e-3)
    }
    expect(Math.max(...xs)).toBeCloseTo(Math.max(...front) + 2, 2)
  })

  test('of a panel without a die is the panel, and that is said', () => {
    const bare = { ...file.art, paths: [] }
    const sheet = plateSheet(job, bare, 0)
    expect(sheet.trim).toEqual([job.panel.widthMm, job.panel.heightMm])
    expect(sheet.bleed).toEqual([0, 0, 0, 0])
    expect(sheet.findings.map(({ code }) => code)).toEqual(['dieline-missing'])
  })
})

test('a packed plane gives back any rows', () => {
  const [width, height] = [7, 203]
  const all = Uint8Array.from({ length: width * height }, (_, i) => (i * 37) % 251)
  const plane = new PackedPlane(width, height)
  for (const [from, to] of [
    [0, 5],
    [5, 140],
    [140, 203],
  ] as const)
    plane.push(all.subarray(from * width, to * width))
  for (const [top, bottom] of [
    [0, 203],
    [63, 65],
    [150, 151],
    [0, 1],
  ] as const)
    expect(plane.rows(top, bottom)).toEqual(all.slice(top * width, bottom * width))
})
