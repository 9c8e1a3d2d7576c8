import { readFileSync } from 'node:fs'
import { beforeAll, describe, expect, test } from 'vitest'
import type { Art, ArtFile } from '../../core/art/layer.ts'
import { readArt } from '../../core/art/read.ts'
import { memorySource } from '../../core/base/source.ts'
import { drawingOfArt } from '../../core/carton/read/art-drawing.ts'
import { readDie } from '../../core/carton/read/read-die.ts'
import type { EffectSpec } from '../../core/effects/effect.ts'
import type { Job } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { kappaScale } from '../../core/material/map.ts'
import type { Assigned, Target } from '../../core/roles/role.ts'
import { makePdf } from '../../demo-assets/pdf.ts'
import { makeSvg } from '../../demo-assets/svg.ts'
import { makeTiff } from '../../demo-assets/tiff.ts'
import { buildForJob, rolesForJob } from '../../electron/art-work.ts'
import { pageData } from '../support/page-data.ts'

const source = (name: string) => memorySource(name, new Uint8Array(readFileSync(`demo-assets/${name}`)))

/** One kind for each holography. The tail is plain: a TIFF has no place for the colours that code it. */
const effects: Readonly<Record<string, EffectSpec>> = {
  'Holo Milky Way': { kind: 'plain', parameters: { pitchNm: 1000, azimuthDeg: 80, sharePercent: 90 } },
  'Holo lines': { kind: 'plain', parameters: { pitchNm: 1100, azimuthDeg: 90 } },
  'Holo lens rings': { kind: 'concentric', parameters: { pitchNm: 1050, grooveDepthNm: 80 } },
  'Holo comet tail': { kind: 'plain', parameters: { pitchNm: 1700, azimuthDeg: 30 } },
  'Holo star rays': { kind: 'radial', parameters: { pitchNm: 900, grooveDepthNm: 80 } },
}

interface Read {
  readonly art: Art
  readonly map: MaterialMap
  readonly roles: readonly Assigned[]
}

/** Reads a file as a new job of it does, with the same effects by name. */
async function read(file: ArtFile): Promise<Read> {
  const { art } = file
  const roles = await rolesForJob(file, { aliases: [], roles: [] })
  const fresh = newJob(art, 'ab'.repeat(32), art.name, roles)
  const target = (name: string): Target => {
    const layer = art.layers.find(one => one.name === name)
    if (layer) return { kind: 'layer', id: layer.id }
    return { kind: 'channel', id: art.channels.find(one => one.name === name)!.id }
  }
  const chosen = Object.keys(effects).map(target)
  const job: Job = {
    ...fresh,
    panel: { ...fresh.panel, widthMm: 100, heightMm: 150 },
    // How much of the foil is embossed is asked of the user: it is where the layer or channel is.
    roles: chosen.map(of => ({
      target: of,
      role: 'holography',
      amount: { from: of.kind === 'layer' ? 'alpha' : 'plane' },
    })),
    effects: Object.entries(effects).map(([name, effect]) => ({ target: target(name), effect })),
  }
  const { map } = await buildForJob(file, { job, assets: [], profile: null })
  return { art, map, roles }
}

let psd: Read
let pdf: Read
let tiff: Read
beforeAll(async () => {
  psd = await read(await readArt(source('demo.psd')))
  pdf = await read(await readArt(source('demo.pdf'), { shipped: pageData }))
  tiff = await read(await readArt(source('demo.tif'), { shipped: pageData, beside: [source('demo.svg')] }))
}, 300_000)

/** A component of a plane, row by row. */
function samples({ planes, width, height }: MaterialMap, name: string, component: number): Float32Array {
  const plane = planes.get(name)!
  return Float32Array.from({ length: width * height }, (_, i) => {
    if (plane.layout === 'full') return plane.data[i * plane.components + component]!
    const { tile, index, data, components } = plane
    const [x, y] = [i % width, Math.floor(i / width)]
    const block = index[Math.floor(y / tile) * Math.ceil(width / tile) + Math.floor(x / tile)]!
    return block < 0
      ? 0
      : data[(block * tile * tile + (y % tile) * tile + (x % tile)) * components + component]!
  })
}

/** Mean difference, and the part of all pixels that differ by more than `step`. */
function difference(a: ArrayLike<number>, b: ArrayLike<number>, step: number) {
  let [sum, off] = [0, 0]
  for (let i = 0; i < a.length; i++) {
    const apart = Math.abs(a[i]! - b[i]!)
    sum += apart
    if (apart > step) off++
  }
  return { mean: sum / a.length, off: off / a.length }
}

/** Names of what holography lies uppermost, pixel by pixel. */
function areaNames({ map }: Read): readonly (string | null)[] {
  const names = new Map(map.areas.map(({ id, name }) => [id, name]))
  return Array.from(samples(map, 'area', 0), id => (id === 0 ? null : names.get(id)!))
}

describe('the demo as PSD, as PDF, and as TIFF with an SVG', () => {
  test.each([
    ['PDF', () => pdf],
    ['TIFF and SVG', () => tiff],
  ] as const)('%s: inks, white and bare metal agree', (_, other) => {
    const { map } = other()
    expect([map.width, map.height]).toEqual([psd.map.width, psd.map.height])
    expect([...map.planes.keys()].toSorted()).toEqual([...psd.map.planes.keys()].toSorted())
    for (const plane of ['C', 'M', 'Y', 'K', 'white1', 'metal']) {
      const { mean, off } = difference(samples(psd.map, plane, 0), samples(map, plane, 0), 16)
      // Of 255; edges of what is drawn are softened by another hand.
      expect([plane, mean < 0.3, off < 0.004]).toEqual([plane, true, true])
    }
  })

  test.each([
    ['PDF', () => pdf, 0.003],
    // Channels of a TIFF lie over the drawing: where two holographies overlap, the other one is uppermost.
    ['TIFF and SVG', () => tiff, 0.016],
  ] as const)('%s: holography lies where it lies, its grooves turned the same way', (_, other, most) => {
    const [own, others] = [areaNames(psd), areaNames(other())]
    expect(own.filter((name, i) => name !== others[i]).length / own.length).toBeLessThan(most)
    for (const component of [0, 1]) {
      const kappa = (of: Read) => samples(of.map, 'kappa1', component)
      // One hundredth of a cycle a micrometre.
      const { off } = difference(kappa(psd), kappa(other()), 0.01 * kappaScale)
      expect(off).toBeLessThan(most)
    }
    // How much of the foil is embossed, of 255.
    const share = (of: Read) => samples(of.map, 'relief1', 1)
    expect(difference(share(psd), share(other()), 16).off).toBeLessThan(most)
  })

  test('roles are found by the same names, steps first', () => {
    const role = ({ art, roles }: Read, name: string) => {
      const ids = [...art.layers, ...art.channels].filter(one => one.name === name).map(({ id }) => id)
      return roles
        .filter(({ target, role }) => ids.includes(target.id) && role !== 'ignore')
        .map(one => one.role)
    }
    for (const name of [...Object.keys(effects), 'White', 'Dieline', 'Legend'])
      for (const of of [pdf, tiff]) expect([name, role(of, name)]).toEqual([name, role(psd, name)])
    const dieline = pdf.roles.find(({ target }) => target.id === 'layer:Dieline')
    expect(dieline?.reason).toContain('Structural Cutting')
  })

  test('the die is found in the vectors of each', () => {
    for (const { art } of [psd, pdf, tiff]) {
      const drawing = drawingOfArt(art)
      const { die } = readDie(drawing, { caliperMm: 0.4 })
      expect(new Set(die.lines.map(({ kind }) => kind))).toEqual(new Set(['cut']))
      const points = drawing.lines.flatMap(line => line.points)
      for (const [axis, size] of [
        [0, 100],
        [1, 150],
      ] as const) {
        const places = points.map(point => point[axis])
        expect(Math.abs(Math.min(...places))).toBeLessThan(0.005)
        expect(Math.abs(Math.max(...places) - size)).toBeLessThan(0.005)
      }
    }
  })
})

describe('the files that are kept', () => {
  const profile = new Uint8Array(readFileSync('core/data/icc/ISOcoated_v2_300_bas.icc'))
  const shapes = ({ art }: ArtFile) =>
    art.layers.map(({ name, kind, step, outlines }) => ({ name, kind, step, outlines: outlines?.length }))

  test('the drawing is what its script draws', () => {
    const number = /-?\d*\.?\d+(?:e-?\d+)?/g
    const [kept, made] = [readFileSync('demo-assets/demo.svg', 'utf8'), makeSvg()]
    expect(made.replace(number, '#')).toBe(kept.replace(number, '#'))
    const [a, b] = [kept, made].map(text => text.match(number)!.map(Number))
    // Sines of another engine may move the last digit.
    expect(a!.every((v, i) => Math.abs(v - b![i]!) < 0.002)).toBe(true)
  })

  test('the image has the samples that its script paints', async () => {
    const kept = await readArt(source('demo.tif'), { shipped: pageData })
    const made = await readArt(memorySource('made.tif', await makeTiff(profile)), { shipped: pageData })
    expect(made.art.channels.map(({ name }) => name)).toEqual(kept.art.channels.map(({ name }) => name))
    for (let plane = 0; plane < 4 + kept.art.channels.length; plane++) {
      const [a, b] = [(await made.documentPlane(plane)).data, (await kept.documentPlane(plane)).data]
      expect(a.every((v, i) => Math.abs(v - b[i]!) <= 1)).toBe(true)
    }
  })

  test('the page has the layers and shapes that its script draws', async () => {
    const kept = await readArt(source('demo.pdf'), { shipped: pageData })
    const made = await readArt(memorySource('made.pdf', makePdf(profile)), { shipped: pageData })
    expect(shapes(made)).toEqual(shapes(kept))
    expect(made.art.channels).toEqual(kept.art.channels)
  })
})
