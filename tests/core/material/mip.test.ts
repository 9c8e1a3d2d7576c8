import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { mapBytes } from '../../../core/material/bytes.ts'
import { kappaScale, type MapPlane, type MaterialMap } from '../../../core/material/map.ts'
import { minify, pyramid } from '../../../core/material/mip.ts'
import { emptyMoment, type GratingMoment } from '../../../core/material/moments.ts'
import { mapReader } from '../../../core/material/sample.ts'
import { spans } from '../../../core/material/spans.ts'
import { GratingTiles, gratingChannel } from '../../../core/material/tiles.ts'
import { blazed, sinusoid } from '../../../core/optics/groove.ts'

type At<T> = (x: number, y: number) => T

/** A map made of functions: coverages 0..255 and, where `grating` gives one, a grating. */
function mapOf(
  width: number,
  height: number,
  what: { planes?: Record<string, At<number>>; grating?: At<Partial<GratingMoment> | null> },
): MaterialMap {
  const planes = new Map<string, MapPlane>()
  for (const [name, at] of Object.entries(what.planes ?? {})) {
    const data = new Uint8Array(width * height)
    for (let i = 0; i < data.length; i++) data[i] = at(i % width, Math.floor(i / width))
    planes.set(name, { layout: 'full', components: 1, data })
  }
  const channel = gratingChannel(1)
  if (what.grating) {
    const tiles = new GratingTiles(width, height)
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const one = what.grating(x, y)
        if (one) tiles.set(x, y, { ...emptyMoment(), weight: 1, depth: 60, ...one })
      }
    for (const [name, plane] of tiles.finish(channel)) planes.set(name, plane)
  }
  return {
    width,
    height,
    pixelsPerMm: 10,
    widthMm: width / 10,
    heightMm: height / 10,
    planes,
    whites: [],
    spots: [],
    varnish: null,
    gratings: what.grating ? [channel] : [],
    grooves: [sinusoid, blazed],
    areas: [],
  }
}

const meanOf = (plane: MapPlane | undefined) => {
  const data = plane!.data as Uint8Array
  return data.reduce((a, b) => a + b, 0) / data.length
}

describe('the parts of a line', () => {
  it.each([
    [7, 3],
    [9, 4],
    [5, 2],
    [3, 1],
    [8, 4],
    [1, 1],
    [1000, 333],
  ])('%d in %d cover every pixel once', (from, to) => {
    const parts = spans(from, to)
    const seen = new Float64Array(from)
    for (let i = 0; i < to; i++) {
      let sum = 0
      for (let j = 0; j < parts.count[i]!; j++) {
        const w = parts.weights[i * parts.most + j]!
        sum += w
        seen[parts.start[i]! + j]! += (w * from) / to
      }
      expect(sum).toBeCloseTo(1, 12)
    }
    for (const v of seen) expect(v).toBeCloseTo(1, 12)
  })
})

describe('a coarser map', () => {
  it('keeps the mean coverage, odd sides included', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 40 }),
        fc.integer({ min: 2, max: 40 }),
        fc.integer(),
        (w, h, seed) => {
          let state = seed | 1
          const noise = () => {
            state = Math.imul(state, 1664525) + 1013904223
            return state >>> 24
          }
          const map = mapOf(w, h, { planes: { C: noise } })
          const coarse = minify(map)
          // Each coarse pixel is rounded by at most half a step.
          expect(Math.abs(meanOf(coarse.planes.get('C')) - meanOf(map.planes.get('C')))).toBeLessThanOrEqual(
            0.5,
          )
        },
      ),
    )
  })

  it('does not drift from level to level', () => {
    // Every mean of these ends in ½, which rounded to one side would add up to ½ a level.
    const chess = mapOf(256, 256, { planes: { C: (x, y) => 100 + ((x + y) & 1) } })
    const ramp = mapOf(256, 256, { planes: { C: x => x } })
    for (const [map, mean] of [
      [chess, 100.5],
      [ramp, 127.5],
    ] as const)
      for (const level of pyramid(map).slice(0, 8)) expect(meanOf(level.planes.get('C'))).toBeCloseTo(mean, 1)
  })

  it('halves down to one pixel, whatever the shape', () => {
    const sizes = pyramid(mapOf(37, 5, { planes: { metal: () => 255 } })).map(level => [
      level.width,
      level.height,
    ])
    expect(sizes).toEqual([
      [37, 5],
      [18, 2],
      [9, 1],
      [4, 1],
      [2, 1],
      [1, 1],
    ])
  })

  it('still measures the same panel', () => {
    const coarse = minify(mapOf(37, 20, { planes: { metal: () => 255 } }))
    expect(coarse).toMatchObject({ widthMm: 3.7, heightMm: 2 })
    expect(coarse.pixelsPerMm).toBeCloseTo(18 / 3.7, 12)
  })

  it('does not mix area ids', () => {
    const map = mapOf(4, 2, { planes: { area: x => [7, 7, 3, 9][x]! } })
    const coarse = minify({ ...map, areas: [] })
    expect([...coarse.planes.get('area')!.data]).toEqual([7, 9])
    const majority = mapOf(2, 2, { planes: { area: (x, y) => (x + y === 0 ? 200 : 5) } })
    expect([...minify(majority).planes.get('area')!.data]).toEqual([5])
  })
})

describe('gratings of coarser maps', () => {
  it('a uniform one has exactly zero spread at every level, in any direction and size', () => {
    for (const [width, height] of [
      [200, 131],
      [64, 64],
      [65, 3],
    ] as const)
      for (const azimuth of [0, 13, 45, 90, 121.3, 180, 254])
        for (const pitch of [400, 667, 1000, 1733]) {
          const k = 1000 / pitch
          const angle = (azimuth * Math.PI) / 180
          const map = mapOf(width, height, {
            grating: () => ({ kx: k * Math.cos(angle), ky: k * Math.sin(angle) }),
          })
          const first = (level: MaterialMap, name: string) => [...level.planes.get(name)!.data.slice(0, 2)]
          for (const level of pyramid(map)) {
            const spread = level.planes.get('spread1')!.data
            expect(spread.every(v => v === 0)).toBe(true)
            expect(first(level, 'kappa1')).toEqual(first(map, 'kappa1'))
            const reader = mapReader(level)
            const corner = reader.sampleInto(level.width - 1, level.height - 1, reader.buffer())
            expect(corner.gratings).toHaveLength(1)
            expect(corner.gratings[0]).toMatchObject({
              share: 1,
              spreadAlong: 0,
              spreadAcross: 0,
              grooveDepth: 60,
            })
          }
        }
  })

  it('rings run through the branch cut of their angle without a seam', () => {
    // Directions left of the centre jump from +180° to −180°; the averaged field must not know.
    const size = 128
    const map = mapOf(size, size, {
      grating: (x, y) => {
        const angle = Math.atan2(size / 2 - 0.5 - y, x - size / 2 + 0.5)
        return { kx: Math.cos(angle), ky: Math.sin(angle) }
      },
    })
    const coarse = minify(minify(map))
    const reader = mapReader(coarse)
    const spreads = (row: number) =>
      Array.from({ length: 12 }, (_, column) => {
        const [grating] = reader.sampleInto(column, row, reader.buffer()).gratings
        return { pitch: grating!.pitch, across: grating!.spreadAcross * 1000 }
      })
    // Rows just above and below the cut mirror each other, and are as calm as the rows across on the right.
    for (const [i, above] of spreads(15).entries()) {
      const below = spreads(16)[i]!
      expect(above.pitch).toBeCloseTo(below.pitch, 6)
      expect(above.across).toBeCloseTo(below.across, 6)
      // 4 × 4 pixels at radius r: the direction varies by about 4 / (√12 r), at the nearest pixel r = 18.
      expect(above.across).toBeLessThan(0.08)
      expect(above.pitch).toBeGreaterThan(999)
      expect(above.pitch).toBeLessThan(1004)
    }
  })

  it('a blaze stays on its side down to one pixel', () => {
    const map = mapOf(100, 70, {
      grating: x => ({ kx: -1, ky: x % 2 ? 0.05 : -0.05, groove: 1, depth: 180 }),
    })
    for (const level of pyramid(map)) {
      const reader = mapReader(level)
      const [grating] = reader.sampleInto(0, 0, reader.buffer()).gratings
      expect(grating!.groove).toBe(blazed)
      expect(Math.cos(grating!.azimuth)).toBeLessThan(-0.99)
    }
  })

  it('two crossed halves of a pixel keep their structure tensor', () => {
    const map = mapOf(2, 2, { grating: x => (x === 0 ? { kx: 1, ky: 0 } : { kx: 0, ky: 1 }) })
    const reader = mapReader(minify(map))
    const [one] = reader.sampleInto(0, 0, reader.buffer()).gratings
    const k = 1000 / one!.pitch
    const [along, across] = [one!.spreadAlong * 1000, one!.spreadAcross * 1000]
    // Trace of the tensor is k² = 1 before and after, to the planes' steps.
    expect(k * k + along * along + across * across).toBeCloseTo(1, 3)
    expect(across).toBeCloseTo(Math.SQRT1_2, 4)
  })

  it('keep the covered area where only part of it has a grating', () => {
    const map = mapOf(129, 67, {
      grating: (x, y) => ((x * 7 + y * 3) % 5 < 2 ? { kx: 1, ky: 0, weight: 0.6 } : null),
    })
    const covered = (level: MaterialMap) => {
      const reader = mapReader(level)
      const stack = reader.buffer()
      let sum = 0
      for (let y = 0; y < level.height; y++)
        for (let x = 0; x < level.width; x++)
          for (const { share } of reader.sampleInto(x, y, stack).gratings) sum += share
      return sum / (level.width * level.height)
    }
    // Shares are rounded by at most half of 1/255 a level.
    pyramid(map).forEach((level, i) => {
      expect(Math.abs(covered(level) - covered(map))).toBeLessThanOrEqual((i * 0.5) / 255)
    })
  })

  it('leave tiles out where there is nothing', () => {
    const map = mapOf(512, 512, { grating: (x, y) => (x < 70 && y < 10 ? { kx: 1, ky: 0 } : null) })
    const index = (level: MaterialMap) => {
      const plane = level.planes.get('kappa1')!
      return plane.layout === 'tiles' ? [...plane.index].filter(i => i >= 0).length : -1
    }
    expect(index(map)).toBe(2)
    expect(index(minify(map))).toBe(1)
    expect(mapBytes(map)).toBe(2 * 64 * 64 * 12 + 64 * 4)
  })

  it('are stored to a few parts in 10 000 of the pitch', () => {
    // The vector's step is 1 / kappaScale cycles/µm, half of it is the rounding.
    const map = mapOf(1, 1, { grating: () => ({ kx: 0.5 / 0.7, ky: 0.3 }) })
    const [kx, ky] = map.planes.get('kappa1')!.data
    expect(Math.abs(kx! / kappaScale - 0.5 / 0.7)).toBeLessThanOrEqual(0.5 / kappaScale)
    expect(Math.abs(ky! / kappaScale - 0.3)).toBeLessThanOrEqual(0.5 / kappaScale)
  })
})
