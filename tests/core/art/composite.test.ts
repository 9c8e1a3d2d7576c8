import { describe, expect, it } from 'vitest'
import { composite, compositeStrips } from '../../../core/art/composite.ts'
import type { ArtFile, Rows } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { Cancelled } from '../../../core/base/task.ts'
import {
  type PsdGroup,
  type PsdLayer,
  type PsdMask,
  solidFillBlock,
  writePsd,
} from '../../support/psd-write.ts'

const width = 6
const height = 4
const page = { left: 0, top: 0, right: width, bottom: height }
const plane = (value: number, n = width * height) => new Uint8Array(n).fill(value)

/** A full-page CMYK layer in stored samples (255 = no ink). */
function flat(name: string, cmyk: readonly number[], how: Partial<PsdLayer> = {}, alpha = 255): PsdLayer {
  const planes = {
    0: plane(cmyk[0]!),
    1: plane(cmyk[1]!),
    2: plane(cmyk[2]!),
    3: plane(cmyk[3]!),
    [-1]: plane(alpha),
  }
  return { name, box: page, planes, ...how }
}

async function open(layers: readonly (PsdLayer | PsdGroup)[]): Promise<ArtFile> {
  const bytes = writePsd({
    width,
    height,
    mode: 'CMYK',
    depth: 8,
    ppi: 25.4,
    layers,
    composite: [plane(255), plane(255), plane(255), plane(255)],
  })
  return readArt(memorySource('test.psd', bytes))
}

/** C, M, Y, K and alpha at one pixel, in levels of 255. */
async function at(file: ArtFile, x = 0, y = 0): Promise<number[]> {
  const out = await composite(file)
  const i = y * width + x
  return [...out.planes.map(p => p[i]! * 255), out.alpha[i]! * 255]
}

const close = (got: readonly number[], expected: readonly number[]): void => {
  // Opacities are stored in 8 bits, so a level may be off by the rounding of half a step twice.
  got.forEach((v, i) => {
    expect(Math.abs(v - expected[i]!)).toBeLessThanOrEqual(1)
  })
}

const paper = flat('paper', [255, 255, 255, 255])
const cyan = [55, 255, 255, 255]
const magenta = [255, 105, 255, 255]

// Expected numbers: basic compositing formula and blend functions of ISO 32000-2:2020, 11.3.5 and 11.3.6, by hand.
describe('layers as one picture', () => {
  it('paints normal and multiply at part opacity', async () => {
    close(await at(await open([paper, flat('c', cyan, { opacity: 0.5 })])), [155, 255, 255, 255, 255])
    close(
      await at(await open([flat('c', cyan), flat('m', magenta, { blend: 'mul ' })])),
      [55, 105, 255, 255, 255],
    )
  })

  it('unites alpha and weighs colour by it', async () => {
    const file = await open([flat('c', cyan, {}, 128), flat('m', magenta, {}, 128)])
    // α = 1/2 + 1/2 − 1/4 = 3/4; the upper layer is 2/3 of the colour.
    close(await at(file), [255 - 200 / 3, 255 - 150 * (2 / 3), 255, 255, 191.5])
  })

  it('blends only where there is a backdrop', async () => {
    close(await at(await open([flat('m', magenta, { blend: 'mul ' })])), [255, 105, 255, 255, 255])
  })

  it('isolates a group and lets a pass-through group see below it', async () => {
    const inner = flat('m', magenta, { blend: 'mul ' })
    const grouped = (blend: string): PsdGroup => ({ name: 'g', blend, children: [inner] })
    close(await at(await open([flat('c', cyan), grouped('norm')])), [255, 105, 255, 255, 255])
    close(await at(await open([flat('c', cyan), grouped('pass')])), [55, 105, 255, 255, 255])
    close(
      await at(await open([flat('c', cyan), { ...grouped('pass'), opacity: 0.5 }])),
      [55, 180, 255, 255, 255],
    )
  })

  it('clips to the base, at the opacity of the base', async () => {
    const base = flat('base', cyan, { opacity: 0.5 }, 128)
    const file = await open([paper, base, flat('clip', magenta, { clipped: true })])
    close(await at(file), [255, 255 - 150 / 4, 255, 255, 255])
  })

  it('leaves out what is hidden, in hidden groups, or clipped to what is hidden', async () => {
    const hidden = flat('base', cyan, { visible: false })
    close(
      await at(await open([paper, hidden, flat('clip', magenta, { clipped: true })])),
      [255, 255, 255, 255, 255],
    )
    const group: PsdGroup = { name: 'g', visible: false, children: [flat('c', cyan)] }
    close(await at(await open([paper, group])), [255, 255, 255, 255, 255])
  })
})

describe('masks', () => {
  const half: PsdMask = {
    box: { left: 0, top: 0, right: 3, bottom: height },
    data: plane(0, 3 * height),
    outside: 255,
  }

  it('hides, by density, and beyond its box by its outside sample', async () => {
    const hard = await open([paper, flat('c', cyan, { mask: half })])
    close(await at(hard, 1), [255, 255, 255, 255, 255])
    close(await at(hard, 4), [55, 255, 255, 255, 255])
    const thin = await open([paper, flat('c', cyan, { mask: { ...half, density: 0.5 } })])
    close(await at(thin, 1), [155, 255, 255, 255, 255])
  })

  it('is ignored when switched off and turned round when inverted', async () => {
    close(
      await at(await open([paper, flat('c', cyan, { mask: { ...half, disabled: true } })]), 1),
      [55, 255, 255, 255, 255],
    )
    close(
      await at(await open([paper, flat('c', cyan, { mask: { ...half, inverted: true } })]), 4),
      [255, 255, 255, 255, 255],
    )
  })

  it('feathers by a Gaussian: half lets through at the edge, and alike on both sides', async () => {
    // Larger than the page, so that only one edge is near.
    const box = { left: -8, top: -8, right: 3, bottom: 12 }
    const mask = { box, data: plane(0, 11 * 20), outside: 255, feather: 1 }
    const file = await open([paper, flat('c', cyan, { mask })])
    const [left] = await at(file, 2)
    const [right] = await at(file, 3)
    expect((left! + right!) / 2).toBeCloseTo(155, 1)
    // The pixel before the edge sees the samples k = 1, 2, 3, … of the unit Gaussian beyond it.
    const g = [0, 1, 2, 3, 4].map(k => Math.exp((-k * k) / 2))
    const total = g[0]! + 2 * (g[1]! + g[2]! + g[3]! + g[4]!)
    expect(255 - 200 * ((g[1]! + g[2]! + g[3]!) / total)).toBeCloseTo(left!, 0)
  })

  it('cuts by a vector mask with a partly covered edge', async () => {
    const corners = [
      [0, 0],
      [2.5, 0],
      [2.5, 4],
      [0, 4],
    ] as const
    const paths = [
      {
        closed: true,
        continues: false,
        combine: 'unite' as const,
        knots: corners.map(at => ({ in: at, at, out: at })),
      },
    ]
    const file = await open([paper, flat('c', cyan, { vectorMask: { paths } })])
    close(await at(file, 1), [55, 255, 255, 255, 255])
    close(await at(file, 2), [155, 255, 255, 255, 255])
    close(await at(file, 3), [255, 255, 255, 255, 255])
  })

  it('masks a group, isolated or not', async () => {
    for (const blend of ['norm', 'pass']) {
      const group: PsdGroup = { name: 'g', blend, mask: half, children: [flat('c', cyan)] }
      const file = await open([paper, group])
      close(await at(file, 1), [255, 255, 255, 255, 255])
      close(await at(file, 4), [55, 255, 255, 255, 255])
    }
  })
})

describe('fills', () => {
  it('draws a solid fill without pixels from its ink numbers', async () => {
    const none = { left: 0, top: 0, right: 0, bottom: 0 }
    const fill: PsdLayer = {
      name: 'fill',
      box: none,
      planes: {},
      blocks: [solidFillBlock({ space: 'CMYK', values: [1, 0.4, 0, 0.2] })],
    }
    close(await at(await open([paper, fill])), [0, 153, 255, 204, 255])
  })
})

describe('parts of a picture', () => {
  const layers = [paper, flat('c', cyan), flat('m', magenta, { blend: 'mul ' })]

  it('takes the layers it is asked for, alone', async () => {
    const out = await composite(await open(layers), { include: layer => layer.name === 'm' })
    expect(out.planes.map(p => Math.round(p[0]! * 255))).toEqual(magenta)
    expect(out.alpha[0]).toBe(1)
  })

  it('keeps a clipped layer inside a base that stays out', async () => {
    const base = flat('base', cyan, {}, 128)
    const file = await open([base, flat('clip', magenta, { clipped: true })])
    const out = await composite(file, { include: layer => layer.name === 'clip' })
    expect(out.planes.map(p => Math.round(p[0]! * 255))).toEqual(magenta)
    expect(out.alpha[0]).toBeCloseTo(128 / 255, 6)
  })

  it('is the same in strips, and asks for no rows beyond a strip', async () => {
    const file = await open([...layers, flat('top', cyan, { opacity: 0.3, blend: 'scrn' })])
    const asked: Rows[] = []
    const watched: ArtFile = {
      art: file.art,
      layerPlane: (id, channel, rows) => {
        asked.push(rows!)
        return file.layerPlane(id, channel, rows)
      },
      maskPlane: id => file.maskPlane(id),
      vectorMaskPlane: id => file.vectorMaskPlane(id),
      documentPlane: (i, rows) => file.documentPlane(i, rows),
    }
    const whole = await composite(file)
    let top = 0
    for await (const strip of compositeStrips(watched, { stripRows: 3, keep: 0 })) {
      expect(strip.box.top).toBe(top)
      strip.planes.forEach((p, i) => {
        expect([...p]).toEqual([...whole.planes[i]!.subarray(top * width, strip.box.bottom * width)])
      })
      top = strip.box.bottom
    }
    expect(top).toBe(height)
    expect(asked.length).toBeGreaterThan(0)
    expect(Math.max(...asked.map(rows => rows.bottom - rows.top))).toBe(3)
  })

  it('stops when told to', async () => {
    const file = await open(layers)
    await expect(composite(file, {}, { signal: AbortSignal.abort() })).rejects.toThrow(Cancelled)
  })
})
