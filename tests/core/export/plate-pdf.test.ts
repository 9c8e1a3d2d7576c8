import { execFileSync } from 'node:child_process'
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { inflateSync } from 'node:zlib'
import opentype from 'opentype.js'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { ArtFile } from '../../../core/art/layer.ts'
import { readInkPage } from '../../../core/art/pdf/read-page.ts'
import { stepFindings } from '../../../core/art/processing-steps.ts'
import { readArt } from '../../../core/art/read.ts'
import {
  PDFArray,
  PDFDict,
  PDFHexString,
  PDFName,
  PDFNumber,
  type PDFRawStream,
} from '../../../core/base/pdf.ts'
import { memorySource } from '../../../core/base/source.ts'
import { cartonBlank } from '../../../core/carton/carton.ts'
import { makePlates, type PlateWork } from '../../../core/export/plate-files.ts'
import { labelMetrics } from '../../../core/export/plate-font.ts'
import { type PlateWish, usualWish } from '../../../core/export/plate-wish.ts'
import type { Job } from '../../../core/job/job.ts'
import { newJob } from '../../../core/job/new.ts'
import { rolesForJob } from '../../../electron/art-work.ts'
import { openPress } from '../../../electron/press.ts'
import { labelFont } from '../../support/label-font.ts'
import { pageData } from '../../support/page-data.ts'
import {
  dieMm,
  drawn,
  hologramPx,
  plateArt,
  plateSize,
  stepPx,
  type WedgeInk,
  wedge,
  wedgeRows,
} from '../../support/plate-art.ts'
import { type ReadPlates, readPlates } from '../../support/read-plates-pdf.ts'
import { allowedDifference, compareSeparations } from '../../support/separations.ts'
import { hasTiffsep } from '../../support/tiffsep.ts'
import { hasTool } from '../../support/tools.ts'

const mm = 72 / 25.4
const label = {
  jobName: 'Halden & Söhne <eyepiece>',
  program: '0.1.0',
  version: 'ab12cd34',
  madeAt: '2026-11-30T16:00:00.000Z',
}
const folder = mkdtempSync(join(tmpdir(), 'rakelight-plates-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

let file: ArtFile
let work: Omit<PlateWork, 'wish'>
let overlay: Awaited<ReturnType<typeof made>>

const wish = (own: Partial<PlateWish> = {}): PlateWish => ({ ...usualWish, ...own })

async function made(own: Partial<PlateWish> = {}) {
  const plates = await makePlates({ ...work, wish: wish(own) })
  const pdf = plates.files.find(({ name }) => name.endsWith('.pdf'))
  return { plates, bytes: pdf!.bytes, read: await readPlates(pdf!.bytes) }
}

beforeAll(async () => {
  file = await readArt(memorySource('wedge.psd', plateArt()))
  const assigned = await rolesForJob(file, { aliases: [], roles: [] })
  const { press } = await openPress({ intent: 'relative', blackPoint: false })
  const job = newJob(file.art, 'ab'.repeat(32), 'wedge.psd', assigned)
  const white = { target: { kind: 'channel', id: file.art.channels[0]!.id } } as const
  const whites = [
    {
      ...white,
      opacity: { from: 'contrast', value: 0.6 } as const,
      hits: 1,
      mottle: 0,
      screen: 'dots' as const,
      toneGain: 0,
    },
  ]
  work = { file, job: { ...job, whites }, options: { ...job, whites, assigned, press }, label, labelFont }
  overlay = await made({ reading: { white: 'wrong', inks: 'right', varnish: 'right' } })
})

const pageOf = (read: ReadPlates, number: number) => read.pages[number - 1]!

describe('the file of plates', () => {
  test('has each plate as an image in a separation of its name, sample by sample', () => {
    // ISO 32000-2, 8.6.6.4 (separations) and 8.9.5.2 (a sample of 255 is the full tint).
    const all = new Map(overlay.read.pages.flatMap(page => [...page.images]))
    for (const name of Object.keys(wedgeRows) as WedgeInk[]) {
      const image = all.get(name)!
      expect(image).toMatchObject({ ink: name, width: plateSize.width, height: plateSize.height })
      let worst = 0
      image.data.forEach((value, i) => {
        const there = drawn(name, i % plateSize.width, Math.floor(i / plateSize.width))
        worst = Math.max(worst, Math.abs(value - there))
      })
      expect([name, worst]).toEqual([name, 0])
    }
    expect([...pageOf(overlay.read, 1).images.keys()]).toEqual([
      'Holo comet',
      'Cyan',
      'Magenta',
      'Yellow',
      'Black',
      'Comet orange',
      'Varnish',
    ])
    expect([...pageOf(overlay.read, 2).images.keys()]).toEqual(['White'])
  })

  test('has the map of holography on its first page, pixel by pixel and not printed', () => {
    const [left, top, right, bottom] = hologramPx
    const { ink, data } = pageOf(overlay.read, 1).images.get('Holo comet')!
    expect(ink).toBe('Holo comet')
    const { width } = plateSize
    const worst = data.reduce((most, value, i) => {
      const [x, y] = [i % width, Math.floor(i / width)]
      const there = x >= left && x < right && y >= top && y < bottom ? 255 : 0
      return Math.max(most, Math.abs(value - there))
    }, 0)
    expect(worst).toBe(0)
    expect(overlay.read.layers.find(({ name }) => name === 'Holo comet')?.print).toBe('OFF')
  })

  test('overprints: none knocks another out', () => {
    // ISO 32000-2, 8.6.7: OP for strokes, op for all else, OPM 1.
    for (const { resources, content } of overlay.read.pages) {
      const state = resources.lookup(PDFName.of('ExtGState'), PDFDict).lookup(PDFName.of('Over'), PDFDict)
      expect(state.toString()).toContain('/OP true')
      expect(state.toString()).toContain('/op true')
      expect(state.lookup(PDFName.of('OPM'), PDFNumber).asNumber()).toBe(1)
      expect(state.get(PDFName.of('BM'))).toBeUndefined()
      expect(content.indexOf('/Over gs')).toBeLessThan(content.indexOf(' Do'))
    }
  })

  test('names its layers, and their steps by ISO 19593-1', () => {
    // Open object model of the PDF association, GTS_ProcStepsGroup: White and Varnish without type, lines with one.
    const steps = new Map(overlay.read.layers.map(({ name, group, type }) => [name, [group, type]]))
    expect(Object.fromEntries(steps)).toEqual({
      White: ['White', null],
      Cyan: [null, null],
      Magenta: [null, null],
      Yellow: [null, null],
      Black: [null, null],
      'Comet orange': [null, null],
      Varnish: ['Varnish', null],
      Cutting: ['Structural', 'Cutting'],
      Creasing: ['Structural', 'Creasing'],
      Hologram: ['Positions', 'Hologram'],
      'Holo comet': ['RKLT_HoloMap', null],
      'White outline': ['RKLT_Outline', 'RKLT_White'],
      'Marks and label': ['Legend', null],
    })
    for (const { name, group, type } of overlay.read.layers)
      if (group !== null)
        expect(stepFindings(group, type, name).filter(({ severity }) => severity !== 'note')).toEqual([])
  })

  test('technical lines have spot colours of their own, none of them reserved', () => {
    const reserved = ['All', 'None', 'Cyan', 'Magenta', 'Yellow', 'Black']
    const [page] = overlay.read.pages
    const technical = [...page!.colorants].filter(([key]) => key.startsWith('T')).map(([, names]) => names)
    expect(technical.flat().toSorted()).toEqual(['Creasing', 'Cutting', 'Hologram', 'White outline'])
    for (const name of technical.flat()) expect(reserved).not.toContain(name)
  })

  test('for press the die makes no plate, for an overlay it can be cut by', async () => {
    const print = (read: ReadPlates) =>
      Object.fromEntries(read.layers.map(({ name, print: state }) => [name, state]))
    expect(print(overlay.read)).toMatchObject({ Cutting: 'ON', Hologram: 'OFF', White: 'ON', Cyan: 'ON' })
    const press = await made({ use: 'press' })
    expect(print(press.read)).toMatchObject({ Cutting: 'OFF', Creasing: 'OFF', Hologram: 'OFF', White: 'ON' })
    // What they say is heeded when printing: ISO 32000-2, 8.11.4.3, AS.
    const list = press.read.document.catalog.lookup(PDFName.of('OCProperties'), PDFDict)
    expect(list.lookup(PDFName.of('D'), PDFDict).lookup(PDFName.of('AS'), PDFArray).toString()).toContain(
      '/Event /Print',
    )
  })

  test('a carton brings its gluing and its bleed, and marks lie beyond', async () => {
    const carton = {
      form: {
        from: 'sizes',
        top: { kind: 'tuck', on: 'back' },
        bottom: { kind: 'tuck', on: 'front' },
        lengthMm: 30,
        widthMm: 16,
        heightMm: 40,
        measure: 'crease',
        own: {},
        code: '',
      },
      fold: { amount: 0, own: {} },
      arts: [{ panel: 'front', xMm: 0, yMm: 0 }],
    } satisfies Job['carton']
    const plates = await makePlates({
      ...work,
      job: { ...work.job, carton },
      wish: wish({ plates: ['Black', 'Dieline'] }),
    })
    const { layers, pages } = await readPlates(plates.files[0]!.bytes)
    expect(layers.flatMap(({ group, type }) => (group === 'Structural' ? [type] : [])).toSorted()).toEqual([
      'Bleed',
      'Creasing',
      'Cutting',
      'Gluing',
    ])
    const blank = cartonBlank({ ...carton.form, caliperMm: work.job.board.caliperMm })
    expect(plates.sheet.trim).toEqual([blank.widthMm, blank.heightMm])
    const { TrimBox: trim, MediaBox: media } = pages[0]!.boxes
    expect((trim[2] - trim[0]) / mm).toBeCloseTo(blank.widthMm, 6)
    // Three millimetres of bleed, and then the marks.
    expect((media[2] - trim[2]) / mm).toBeGreaterThan(3 + 9)
  })

  test('a die in pixels is a picture without a step, and that is said', async () => {
    const bare: ArtFile = {
      art: { ...file.art, paths: [] },
      layerPlane: (...of) => file.layerPlane(...of),
      maskPlane: id => file.maskPlane(id),
      vectorMaskPlane: id => file.vectorMaskPlane(id),
      documentPlane: (...of) => file.documentPlane(...of),
    }
    const assigned = work.options.assigned.map(one =>
      one.role === 'holography' ? { ...one, role: 'dieline' as const } : one,
    )
    const plates = await makePlates({
      ...work,
      file: bare,
      options: { ...work.options, assigned },
      wish: wish({ use: 'press' }),
    })
    expect(plates.findings.map(({ code }) => code)).toContain('dieline-in-pixels')
    const { pages, layers } = await readPlates(plates.files[0]!.bytes)
    const [left, top, right, bottom] = hologramPx
    const { ink, data } = pages[0]!.images.get('Dieline')!
    expect(ink).toBe('Dieline')
    expect(data.filter(value => value === 255)).toHaveLength((right - left) * (bottom - top))
    expect(layers.find(({ name }) => name === 'Dieline')).toEqual({
      name: 'Dieline',
      group: null,
      type: null,
      print: 'OFF',
    })
  })

  test('the die lies within 0.005 mm of where it is drawn, on both sides of the film', () => {
    const { left, bottom, right, top, crease } = dieMm
    for (const [i, { content, boxes }] of overlay.read.pages.entries()) {
      const matrix = /^(\S+) (\S+) (\S+) (\S+) (\S+) (\S+) cm/.exec(content)!.slice(1).map(Number)
      const [a, , , d, e, f] = matrix as [number, number, number, number, number, number]
      const [trimLeft, trimBottom, trimRight] = boxes.TrimBox
      const onTrim = (x: number, y: number) => {
        const across = (x * a + e - trimLeft) / mm
        const width = (trimRight - trimLeft) / mm
        return [i === 0 ? across : width - across, (y * d + f - trimBottom) / mm] as const
      }
      const places = (name: string) => {
        const key = [...overlay.read.pages[i]!.colorants].find(([, names]) => names[0] === name)![0]
        const part = content.split(`/${key} CS`)[1]!.split('EMC')[0]!
        return [...part.matchAll(/(-?[\d.]+) (-?[\d.]+) [ml]\b/g)].map(([, x, y]) =>
          onTrim(Number(x), Number(y)),
        )
      }
      const corners = [
        [0, 0],
        [right - left, 0],
        [right - left, top - bottom],
        [0, top - bottom],
      ] as const
      const cut = places('Cutting')
      for (const corner of corners) {
        const near = Math.min(...cut.map(([x, y]) => Math.hypot(x - corner[0], y - corner[1])))
        expect(near).toBeLessThan(0.005)
      }
      for (const [x] of places('Creasing')) expect(Math.abs(x - (crease - left))).toBeLessThan(0.005)
    }
  })

  test('says how opaque white is, and in which order inks lie', () => {
    // ISO 32000-2, 8.6.6.5 for the hints, 14.11.5 for the output intent.
    const intents = overlay.read.document.catalog.lookup(PDFName.of('OutputIntents'), PDFArray)
    const intent = intents.lookup(0, PDFDict)
    const hints = intent.lookup(PDFName.of('MixingHints'), PDFDict)
    const solid = hints.lookup(PDFName.of('Solidities'), PDFDict)
    expect(solid.lookup(PDFName.of('White'), PDFNumber).asNumber()).toBeCloseTo(0.6, 3)
    expect(solid.lookup(PDFName.of('Default'), PDFNumber).asNumber()).toBe(0)
    const order = hints.lookup(PDFName.of('PrintingOrder'), PDFArray)
    expect(order.asArray().map(name => (name as PDFName).decodeText())).toEqual([
      'White',
      'Cyan',
      'Magenta',
      'Yellow',
      'Black',
      'Comet orange',
      'Varnish',
    ])
    const profile = intent.lookup(PDFName.of('DestOutputProfile')) as PDFRawStream
    expect(Buffer.compare(inflateSync(profile.contents), work.options.press.profile)).toBe(0)
    expect(profile.dict.lookup(PDFName.of('N'), PDFNumber).asNumber()).toBe(4)
  })

  test('inks that are printed on one another darken as plain filters where there are none of them', () => {
    const { resources } = pageOf(overlay.read, 1)
    const space = resources.lookup(PDFName.of('ColorSpace'), PDFDict).lookup(PDFName.of('All'), PDFArray)
    const program = new TextDecoder().decode((space.lookup(3) as PDFRawStream).contents)
    const names = pageOf(overlay.read, 1).colorants.get('All')!
    expect(names).toEqual(['Cyan', 'Magenta', 'Yellow', 'Black', 'Comet orange', 'Varnish'])
    const tints = (own: Partial<Record<string, number>>) => names.map(name => own[name] ?? 0)
    const near = (got: readonly number[], wanted: readonly number[]) =>
      expect(got).toEqual(wanted.map(value => expect.closeTo(value, 4)))
    near(calculated(program, tints({})), [0, 0, 0, 0])
    near(calculated(program, tints({ Cyan: 0.3, Black: 1 })), [0.3, 0, 0, 1])
    const orange = calculated(program, tints({ 'Comet orange': 1 }))
    expect(orange[1]).toBeGreaterThan(0.3)
    expect(orange[2]).toBeGreaterThan(0.5)
    const both = calculated(program, tints({ 'Comet orange': 1, Yellow: 0.5 }))
    expect(both[2]).toBeCloseTo(1 - (1 - orange[2]!) * 0.5, 4)
  })

  test('text of the job is text', () => {
    const metadata = overlay.read.document.catalog.lookup(PDFName.of('Metadata')) as PDFRawStream
    const xmp = new TextDecoder().decode(metadata.contents)
    expect(xmp).toContain('Halden &#38; Söhne &#60;eyepiece&#62;: plates')
    expect(xmp).toContain('Virtual appearance proof (not a contract proof)')
    expect(overlay.read.document.getTitle()).toBe('Halden & Söhne <eyepiece>: plates')
    expect(overlay.plates.files[0]!.name).toBe('Halden & Söhne -eyepiece-.plates.pdf')
  })

  test('the same plates are the same bytes', async () => {
    const again = await made({ reading: { white: 'wrong', inks: 'right', varnish: 'right' } })
    expect(Buffer.compare(Buffer.from(again.bytes), Buffer.from(overlay.bytes))).toBe(0)
  })

  test('without marks the bleed is the page; only wanted plates are there', async () => {
    const bare = await made({ marks: false, plates: ['white', 'Black'] })
    const [page] = bare.read.pages
    expect(bare.read.pages).toHaveLength(1)
    expect(page!.boxes.MediaBox.map(side => side / mm)).toEqual(
      page!.boxes.BleedBox.map(side => expect.closeTo(side / mm, 6)),
    )
    expect([...page!.images.keys()]).toEqual(['White', 'Black'])
    expect(bare.read.layers.map(({ name }) => name).toSorted()).toEqual(['Black', 'White'])
    expect(bare.plates.plates.map(({ name }) => name)).toEqual(['White', 'Black'])
    await expect(
      makePlates({ ...work, options: { ...work.options, assigned: [] }, wish: wish() }),
    ).resolves.toMatchObject({ plates: [{ name: 'Dieline' }], empty: ['Cyan', 'Magenta', 'Yellow', 'Black'] })
    await expect(made({ plates: ['Gold'] })).rejects.toThrow(
      /"Gold".*Choose among White, Cyan, Magenta, Yellow, Black, Comet orange, Varnish, Dieline/,
    )
  })
})

describe('the print condition of plates', () => {
  const intentOf = async (own: Partial<typeof work>) => {
    const plates = await makePlates({ ...work, ...own, wish: wish({ plates: ['Black'], formats: ['pdf'] }) })
    const { document } = await readPlates(plates.files[0]!.bytes)
    const intent = document.catalog.lookup(PDFName.of('OutputIntents'), PDFArray).lookup(0, PDFDict)
    const profile = intent.lookup(PDFName.of('DestOutputProfile')) as PDFRawStream
    const name = intent.lookup(PDFName.of('OutputConditionIdentifier'), PDFHexString).decodeText()
    return [name, inflateSync(profile.contents).length] as const
  }
  const shipped = () => work.options.press.profile.length
  const artWith = (bytes: Uint8Array): ArtFile => ({
    art: { ...file.art, profile: { name: 'FOGRA39', bytes } },
    layerPlane: (...of) => file.layerPlane(...of),
    maskPlane: id => file.maskPlane(id),
    vectorMaskPlane: id => file.vectorMaskPlane(id),
    documentPlane: (...of) => file.documentPlane(...of),
  })

  test('is that of the art, whose numbers they have; a job’s own goes before, and what is no condition is none', async () => {
    const own = new Uint8Array(shipped() + 4)
    own.set(work.options.press.profile)
    const job: Job = {
      ...work.job,
      print: { ...work.job.print, profile: { path: 'own.icc', sha256: 'ab'.repeat(32) } },
    }
    expect(await intentOf({ file: artWith(own) })).toEqual(['FOGRA39', own.length])
    expect((await intentOf({ file: artWith(own), job }))[1]).toBe(shipped())
    expect((await intentOf({ file: artWith(new Uint8Array(200)) }))[1]).toBe(shipped())
  })
})

describe('other readers agree', () => {
  const pdf = join(folder, 'plates.pdf')
  beforeAll(() => writeFileSync(pdf, overlay.bytes))

  test.skipIf(!hasTool('pdffonts', '-v'))('poppler: the font of the label is in the file', () => {
    const out = execFileSync('pdffonts', [pdf], { encoding: 'utf8' })
    const rows = out.trim().split('\n').slice(2)
    expect(rows).toHaveLength(1)
    expect(rows[0]).toMatch(/^LiberationSans +TrueType +WinAnsi +yes/)
  })

  test('our own reader: no font is missing, and letters are as wide as the font has them', async () => {
    const { fonts, findings } = await readInkPage(memorySource('plates.pdf', overlay.bytes), {}, pageData)
    expect(fonts).toEqual([{ name: 'LiberationSans', embedded: true }])
    expect(findings.filter(({ severity }) => severity !== 'note')).toEqual([])
    // Advance widths of the table hmtx, read by another library. Widths may be off by a thousandth of the em:
    // ISO 19005-2, 6.2.11.5.
    const font = opentype.parse(
      labelFont.buffer.slice(labelFont.byteOffset, labelFont.byteOffset + labelFont.length),
    )
    const metrics = await labelMetrics()
    for (const letter of 'Halden & Söhne 0123456789 right reading Virtual (not a contract proof) ÄÖÜ€') {
      const { advanceWidth } = font.charToGlyph(letter)
      const wide = (1000 * advanceWidth) / font.unitsPerEm
      expect([letter, Math.abs(metrics.widthOfTextAtSize(letter, 1000) - wide) <= 1]).toEqual([letter, true])
    }
  })

  test.skipIf(!hasTool('pdfinfo', '-v'))('poppler: boxes and true size', () => {
    const out = execFileSync('pdfinfo', ['-box', '-f', '1', '-l', '2', pdf], { encoding: 'utf8' })
    const boxes = (name: string) =>
      [...out.matchAll(new RegExp(`${name}: +(\\S+) +(\\S+) +(\\S+) +(\\S+)`, 'g'))].map(found =>
        found.slice(1).map(side => Number(side) / mm),
      )
    const trims = boxes('TrimBox')
    const bleeds = boxes('BleedBox')
    expect(trims).toHaveLength(2)
    for (const [i, [left, bottom, right, top]] of trims.entries()) {
      expect(Math.abs(right! - left! - (dieMm.right - dieMm.left))).toBeLessThan(0.01)
      expect(Math.abs(top! - bottom! - (dieMm.top - dieMm.bottom))).toBeLessThan(0.01)
      expect(Math.abs(left! - bleeds[i]![0]! - 3)).toBeLessThan(0.01)
      expect(Math.abs(bottom! - bleeds[i]![1]! - 2)).toBeLessThan(0.01)
    }
  })

  test.skipIf(!hasTool('pdftoppm', '-v'))(
    'poppler: the crease is where it should be, mirrored on the far side',
    () => {
      const ppi = 300
      for (const [i, { boxes }] of overlay.read.pages.entries()) {
        const name = join(folder, `page${i}`)
        execFileSync('pdftoppm', [
          '-r',
          `${ppi}`,
          '-f',
          `${i + 1}`,
          '-l',
          `${i + 1}`,
          '-singlefile',
          pdf,
          name,
        ])
        const picture = readPpm(readFileSync(`${name}.ppm`))
        const [left, bottom, right, top] = boxes.TrimBox
        const own = (dieMm.crease - dieMm.left) * mm
        const x = i === 0 ? left + own : right - own
        // Varnish alone, or nothing at all, lies on the crease between two rows of the wedge's bare first step.
        const y = bottom + (top - bottom) * 0.995
        const pageHeight = boxes.MediaBox[3]
        const at = (dx: number) => {
          const px = Math.floor(((x + dx * mm) * ppi) / 72)
          const py = Math.floor(((pageHeight - y) * ppi) / 72)
          return picture.data.subarray((py * picture.width + px) * 3, (py * picture.width + px) * 3 + 3)
        }
        const [r, , b] = at(0)
        const [besideR] = at(0.6)
        expect(b! - r!).toBeGreaterThan(40)
        expect(besideR! - r!).toBeGreaterThan(20)
      }
    },
  )

  test.skipIf(!hasTiffsep)(
    'ghostscript: the same separations as our own reader, none more and none less',
    async () => {
      const { bytes } = await made()
      const { inks, alone, inexact } = await compareSeparations(bytes, 300)
      const plates = ['Cyan', 'Magenta', 'Yellow', 'Black', 'White', 'Comet orange', 'Varnish']
      const lines = ['Cutting', 'Creasing', 'Hologram', 'Holo comet', 'White outline']
      expect(inks.map(({ ink }) => ink).toSorted()).toEqual([...plates, ...lines].toSorted())
      expect(alone).toEqual([])
      expect(inexact).toEqual([])
      expect(inks.filter(({ largest }) => largest > allowedDifference)).toEqual([])
    },
  )

  test.skipIf(!hasTool('gs', '--version'))('ghostscript: names and tints of the separations', () => {
    execFileSync('gs', [
      '-q',
      '-dNOPAUSE',
      '-dBATCH',
      '-sDEVICE=tiffsep',
      '-r300',
      `-o${folder}/sep%d.tif`,
      pdf,
    ])
    for (const [i, { boxes }] of overlay.read.pages.entries())
      for (const ink of Object.keys(wedgeRows) as WedgeInk[]) {
        const path = join(folder, `sep${i + 1}(${ink}).tif`)
        const onPage = pageOf(overlay.read, i + 1).images.has(ink)
        // Process inks have a separation on every page, others only where something is printed in them.
        if (!onPage) {
          expect(existsSync(path)).toBe(['Cyan', 'Magenta', 'Yellow', 'Black'].includes(ink))
          continue
        }
        const { width, data } = readGrey(path)
        const [bleedLeft, , bleedRight, bleedTop] = boxes.BleedBox
        const pageTop = boxes.MediaBox[3]
        const [top, bottom] = wedgeRows[ink]
        const y = Math.round(((pageTop - bleedTop) / 72) * 300 + (top + bottom) / 2)
        for (const [step, value] of wedge.entries()) {
          const across = (((step + 0.5) * stepPx) / 300) * 72
          const x = Math.round(((i === 0 ? bleedLeft + across : bleedRight - across) / 72) * 300)
          expect([ink, step, Math.abs(255 - data[y * width + x]! - value) <= 1]).toEqual([ink, step, true])
        }
      }
  })
})

const pictures = (own: Partial<PlateWish> = {}) =>
  makePlates({ ...work, wish: wish({ ...own, formats: ['tiff'] }) })

describe('pictures of plates', () => {
  test('one a plate and one of all inks; mirrored where they are wrong reading', async () => {
    const plates = await pictures({ reading: { white: 'wrong', inks: 'wrong', varnish: 'wrong' } })
    expect(plates.files.map(({ name, plate }) => [name.split('.').slice(1).join('.'), plate])).toEqual([
      ['White.tif', 'White'],
      ['Cyan.tif', 'Cyan'],
      ['Magenta.tif', 'Magenta'],
      ['Yellow.tif', 'Yellow'],
      ['Black.tif', 'Black'],
      ['Comet orange.tif', 'Comet orange'],
      ['Varnish.tif', 'Varnish'],
      ['Dieline.tif', 'Dieline'],
      ['inks.tif', null],
    ])
  })

  test('the dieline is as wide on its picture as in the file, and where it is drawn', async () => {
    const plates = await pictures({ plates: ['Dieline'] })
    expect(plates.files).toHaveLength(1)
    const rows = readGreyTiff(plates.files[0]!.bytes)
    const row = rows.subarray(120 * plateSize.width, 121 * plateSize.width)
    const perMm = plateSize.width / plateSize.widthMm
    const around = (x: number) => {
      const [from, to] = [Math.round((x - 0.5) * perMm), Math.round((x + 0.5) * perMm)]
      let [sum, moment] = [0, 0]
      for (let i = from; i < to; i++) {
        sum += row[i]! / 255
        moment += (row[i]! / 255) * (i + 0.5)
      }
      return { width: sum / perMm, at: moment / sum / perMm }
    }
    for (const x of [dieMm.left, dieMm.crease, dieMm.right]) {
      expect(around(x).width).toBeCloseTo(0.2, 2)
      // The art is stretched over a size that is said to a tenth of a millimetre; its die is not.
      expect(Math.abs(around(x).at - x)).toBeLessThan(0.03)
    }
  })

  test.skipIf(!hasTool('convert', '-version'))('ImageMagick: tints and true size', async () => {
    const plates = await pictures()
    for (const { name, bytes, plate } of plates.files) {
      const path = join(folder, name)
      writeFileSync(path, bytes)
      if (plate === null) continue
      const said = execFileSync(
        'convert',
        [path, '-units', 'PixelsPerCentimeter', '-format', '%w %h %x %y', 'info:'],
        {
          encoding: 'utf8',
        },
      )
      const [w, h, x, y] = said.split(/\s+/).map(Number.parseFloat)
      expect(Math.abs((10 * w!) / x! - work.job.panel.widthMm)).toBeLessThan(0.01)
      expect(Math.abs((10 * h!) / y! - work.job.panel.heightMm)).toBeLessThan(0.01)
      if (!(plate in wedgeRows)) continue
      // Solid is dark in a picture that is looked at.
      const { width, data } = readGrey(path)
      const [top, bottom] = wedgeRows[plate as WedgeInk]
      for (const [step, value] of wedge.entries()) {
        const at = Math.round((top + bottom) / 2) * width + Math.round((step + 0.5) * stepPx)
        expect([plate, step, Math.abs(255 - data[at]! - value) <= 1]).toEqual([plate, step, true])
      }
    }
  })

  test.skipIf(!hasTool('vips', '--version'))(
    'libvips: all inks in one picture, each in its band',
    async () => {
      const plates = await pictures()
      const all = plates.files.find(({ plate }) => plate === null)!
      const path = join(folder, 'all.tif')
      writeFileSync(path, all.bytes)
      const bands = ['Cyan', 'Magenta', 'Yellow', 'Black', 'White', 'Comet orange'] as const
      for (const [band, ink] of bands.entries())
        for (const step of [0, 7, 23]) {
          const [top, bottom] = wedgeRows[ink]
          const out = execFileSync(
            'vips',
            ['getpoint', path, `${(step + 0.5) * stepPx - 0.5}`, `${(top + bottom) / 2}`],
            { encoding: 'utf8' },
          )
          expect(Math.abs(Number(out.trim().split(/\s+/)[band]) - wedge[step]!)).toBeLessThanOrEqual(1)
        }
    },
  )
})

/** Runs a calculator function of PDF: those operators of ISO 32000-2, 7.10.5, that are used here. */
function calculated(program: string, inputs: readonly number[]): readonly number[] {
  const stack = [...inputs]
  const pop = () => stack.pop()!
  for (const word of program.replace(/[{}]/g, ' ').trim().split(/\s+/))
    switch (word) {
      case 'mul':
        stack.push(pop() * pop())
        break
      case 'sub': {
        const second = pop()
        stack.push(pop() - second)
        break
      }
      case 'exch': {
        const [b, a] = [pop(), pop()]
        stack.push(b, a)
        break
      }
      case 'pop':
        pop()
        break
      case 'index':
        stack.push(stack.at(-1 - pop())!)
        break
      case 'roll': {
        const [j, n] = [pop(), pop()]
        const part = stack.splice(stack.length - n, n)
        const turn = ((j % n) + n) % n
        stack.push(...part.slice(n - turn), ...part.slice(0, n - turn))
        break
      }
      default:
        stack.push(Number(word))
    }
  expect(stack).toHaveLength(4)
  expect(stack.every(Number.isFinite)).toBe(true)
  return stack
}

/** Samples of a grey TIFF as this project writes them: strips of differences. */
function readGreyTiff(bytes: Uint8Array): Uint8Array {
  const view = new DataView(bytes.buffer, bytes.byteOffset)
  const at = view.getUint32(4, true)
  const entries = new Map<number, readonly number[]>()
  for (let i = 0; i < view.getUint16(at, true); i++) {
    const place = at + 2 + 12 * i
    const [type, count] = [view.getUint16(place + 2, true), view.getUint32(place + 4, true)]
    if (type !== 4) continue
    const from = count === 1 ? place + 8 : view.getUint32(place + 8, true)
    entries.set(
      view.getUint16(place, true),
      Array.from({ length: count }, (_, k) => view.getUint32(from + 4 * k, true)),
    )
  }
  const width = entries.get(256)![0]!
  const out = Buffer.concat(
    entries.get(273)!.map((from, i) => inflateSync(bytes.subarray(from, from + entries.get(279)![i]!))),
  )
  for (let i = 0; i < out.length; i++) if (i % width > 0) out[i] = (out[i]! + out[i - 1]!) & 255
  return out
}

function readPpm(bytes: Uint8Array): {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
} {
  const head = /^P6\s+(\d+)\s+(\d+)\s+255\s/.exec(String.fromCharCode(...bytes.subarray(0, 40)))!
  return { width: Number(head[1]), height: Number(head[2]), data: bytes.subarray(head[0].length) }
}

function readGrey(path: string): { readonly width: number; readonly data: Uint8Array } {
  const size = execFileSync('convert', [path, '-format', '%w', 'info:'], { encoding: 'utf8' })
  const data = execFileSync('convert', [path, '-depth', '8', 'gray:-'], { maxBuffer: 2 ** 28 })
  return { width: Number(size), data }
}
