import { describe, expect, it } from 'vitest'
import { type MapPlane, type MaterialMap, spreadScale } from '../../../core/material/map.ts'
import { emptyMoment } from '../../../core/material/moments.ts'
import { mapReader, stackAt } from '../../../core/material/sample.ts'
import { GratingTiles, gratingChannel } from '../../../core/material/tiles.ts'
import { blazed, rectangular, sinusoid } from '../../../core/optics/groove.ts'

const full = (...data: number[]): MapPlane => ({ layout: 'full', components: 1, data: Uint8Array.from(data) })

/** Two pixels side by side, 2 × 1 mm; only the second gratings channel is there on the right. */
function twoPixels(): MaterialMap {
  const channels = [gratingChannel(1), gratingChannel(2)]
  const tiles = channels.map(() => new GratingTiles(2, 1))
  const moment = {
    ...emptyMoment(),
    kx: 0,
    ky: -1.25,
    along: 0.01 ** 2,
    across: 0.2 ** 2,
    weight: 0.4,
    depth: 75,
    groove: 2,
  }
  tiles[0]!.set(0, 0, { ...moment, kx: 1, ky: 0 })
  tiles[1]!.set(0, 0, moment)
  tiles[1]!.set(1, 0, moment)
  return {
    width: 2,
    height: 1,
    pixelsPerMm: 1,
    widthMm: 2,
    heightMm: 1,
    planes: new Map([
      ['metal', full(255, 51)],
      ['C', full(0, 255)],
      ['M', full(51, 0)],
      ['Y', full(0, 0)],
      ['K', full(102, 0)],
      ['white1', full(204, 0)],
      ['spot1', full(0, 153)],
      ['varnish', full(255, 0)],
      ...channels.flatMap((channel, i) => tiles[i]!.finish(channel)),
    ]),
    whites: [{ name: 'White', coverage: 'white1', opacity: 0.6, hits: 2, assumed: false }],
    spots: [{ name: 'Halden blue', coverage: 'spot1', lab: [30, 10, -50] }],
    varnish: 'varnish',
    gratings: channels,
    grooves: [sinusoid, rectangular(), blazed],
    areas: [],
  }
}

describe('the stack at a pixel', () => {
  it('has every coat in its unit', () => {
    const stack = stackAt(twoPixels(), 0.2, 0.5)
    expect(stack).toMatchObject({
      metal: 1,
      whites: [{ coverage: 0.8, opacity: 0.6, hits: 2 }],
      cmyk: [0, 0.2, 0, 0.4],
      spots: [{ coverage: 0, lab: [30, 10, -50] }],
      varnish: 1,
    })
    expect(stack.gratings).toHaveLength(2)
  })

  it('gives a grating in nm and radians, its spread in cycles/nm', () => {
    const [grating] = stackAt(twoPixels(), 1.5, 0.5).gratings
    expect(grating).toMatchObject({ grooveDepth: 75, groove: blazed, share: 102 / 255 })
    // To the planes' steps: 8e-5 and 2e-5 cycles/µm.
    expect(grating!.pitch).toBeCloseTo(800, 1)
    expect(grating!.azimuth).toBeCloseTo(-Math.PI / 2, 4)
    expect(Math.abs(grating!.spreadAlong - 1e-5)).toBeLessThanOrEqual(0.5 / spreadScale / 1000)
    expect(Math.abs(grating!.spreadAcross - 2e-4)).toBeLessThanOrEqual(0.5 / spreadScale / 1000)
  })

  it('is written over from pixel to pixel, gratings that are gone included', () => {
    const reader = mapReader(twoPixels())
    const buffer = reader.buffer()
    expect(reader.sampleInto(0, 0, buffer)).toBe(buffer)
    expect(buffer.gratings).toHaveLength(2)
    reader.sampleInto(1, 0, buffer)
    expect(buffer).toMatchObject({ metal: 0.2, cmyk: [1, 0, 0, 0], varnish: 0 })
    expect(buffer.gratings).toHaveLength(1)
    expect(buffer).toEqual(stackAt(twoPixels(), 1.5, 0.5))
    reader.sampleInto(0, 0, buffer)
    expect(buffer).toEqual(stackAt(twoPixels(), 0.5, 0.5))
  })

  it('wants a buffer of its own reader', () => {
    const other = mapReader(twoPixels()).buffer()
    expect(() => mapReader(twoPixels()).sampleInto(0, 0, other)).toThrow('expected a buffer of this reader')
  })
})

describe('stored gratings', () => {
  it('keep within the planes: spread that no colour survives is clipped, a share of nothing is nothing', () => {
    const tiles = new GratingTiles(1, 1)
    tiles.set(0, 0, { ...emptyMoment(), kx: 1, weight: 0.001 })
    expect(tiles.isEmpty).toBe(true)
    tiles.set(0, 0, { ...emptyMoment(), kx: 9, ky: -9, along: 9, across: 9, weight: 3, depth: 900 })
    const [kappa, spread, relief] = tiles
      .finish(gratingChannel(1))
      .map(([, plane]) => [...plane.data.slice(0, 4)])
    expect(kappa!.slice(0, 2)).toEqual([32767, -32767])
    expect(spread!.slice(0, 2)).toEqual([65535, 65535])
    expect(relief).toEqual([255, 255, 0, 0])
  })
})
