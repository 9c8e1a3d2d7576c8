import { describe, expect, it } from 'vitest'
import type { ArtTone, EffectFrame, GratingSample } from '../../../core/effects/effect.ts'
import { brightness } from '../../../core/effects/flat-image.ts'
import { prepareEffect } from '../../../core/effects/kinds.ts'
import type { Outline } from '../../../core/effects/outline.ts'
import { orderShare } from '../../../core/optics/efficiency.ts'

const frame: EffectFrame = { centerXMm: 50, centerYMm: 80, widthMm: 40, heightMm: 20 }
const grey: ArtTone = { lightness: 0.5, hue: 0, chroma: 0 }

function sampler(kind: string, parameters: Record<string, unknown> = {}, in_: EffectFrame = frame) {
  const field = prepareEffect({ kind, parameters }, in_)
  if (field.kind !== 'grating') throw new TypeError(`"${kind}" is not one grating at a place`)
  return (x: number, y: number, tone = grey): GratingSample =>
    field.at(x, y, tone, { pitch: 0, azimuth: 0, grooveDepth: 0, share: 0, spread: 0, jitter: 0 })
}

describe('a rainbow on two axes', () => {
  it('has two gratings at right angles with half of the share each', () => {
    const field = prepareEffect({ kind: 'crossed', parameters: { azimuthDeg: 20, sharePercent: 90 } }, frame)
    if (field.kind !== 'beside') throw new TypeError('expected gratings side by side')
    const [first, second] = field.parts.map(part =>
      part.at(50, 80, grey, { pitch: 0, azimuth: 0, grooveDepth: 0, share: 0, spread: 0, jitter: 0 }),
    )
    expect(first!.share + second!.share).toBeCloseTo(0.9, 12)
    // κ₁ · κ₂ = 0.
    expect(Math.cos(first!.azimuth - second!.azimuth)).toBeCloseTo(0, 12)
    expect(first!.pitch).toBe(second!.pitch)
  })
})

describe('gradient', () => {
  it('changes its pitch in a straight line along its ramp and not across it', () => {
    const read = sampler('gradient', { pitchNm: 800, endPitchNm: 1400, rampDeg: 0 })
    for (const part of [0, 0.25, 0.5, 0.9, 1]) {
      expect(read(30 + 40 * part, 75).pitch).toBeCloseTo(800 + 600 * part, 9)
      expect(read(30 + 40 * part, 88).pitch).toBeCloseTo(800 + 600 * part, 9)
    }
    const up = sampler('gradient', { pitchNm: 800, endPitchNm: 1400, rampDeg: 90 })
    expect(up(35, 85).pitch).toBeCloseTo(1250, 9)
  })

  it('goes there and back where it repeats', () => {
    const read = sampler('gradient', { pitchNm: 800, endPitchNm: 1400, rampDeg: 0, repeats: 2 })
    expect([30, 40, 50, 60, 70].map(x => Math.round(read(x, 80).pitch))).toEqual([800, 1100, 1400, 1100, 800])
  })
})

describe('running highlight', () => {
  // It lights where κ is parallel to h, whose azimuth is ψ: φ₀ + ω s = ψ, so ds/dψ = 1/ω.
  it('runs 1/ω millimetres a degree along a line', () => {
    const read = sampler('highlight', { curve: 'line', repeatMm: 36, startDeg: 10 })
    const lit = (ψ: number) => {
      for (let x = 30; x < 70; x += 0.001)
        if (Math.abs(Math.sin(read(x, 80).azimuth - (ψ * Math.PI) / 180)) < 2e-4) return x
      throw new Error(`nothing is lit at ${ψ}°`)
    }
    // Half a turn a repeat: 36 mm / 180° = 0.2 mm a degree.
    expect((lit(90) - lit(50)) / 40).toBeCloseTo(0.2, 3)
    expect(lit(10)).toBeCloseTo(30, 2)
  })

  it('takes its place from the nearest point of the curve, and only so far from it', () => {
    const read = sampler('highlight', { curve: 'line', repeatMm: 36, widthMm: 4 })
    expect(read(45, 81.9).azimuth).toBeCloseTo(read(45, 80).azimuth, 12)
    expect(read(45, 81.9).share).toBe(1)
    expect(read(45, 82.1).share).toBe(0)
  })

  it('meets itself on a closed line', () => {
    const read = sampler('highlight', { curve: 'circle', repeatMm: 25 })
    // A circle of 20 mm across: 62.8 mm, so two or three repeats; 2.5 rounds to 3.
    const [before, after] = [read(60, 79.999), read(60, 80.001)]
    expect(Math.abs(Math.sin(before.azimuth - after.azimuth))).toBeLessThan(0.001)
    expect((before.azimuth - after.azimuth) / Math.PI).toBeCloseTo(3, 2)
  })

  it('runs along an outline by its arc length, whatever its corners', () => {
    const square: Outline = {
      id: 'frame',
      name: 'Frame',
      rings: [
        [
          [40, 75],
          [60, 75],
          [60, 85],
          [40, 85],
        ],
      ],
    }
    const parameters = { curve: 'outline', outlineId: 'frame', repeatMm: 20 }
    const read = sampler('highlight', parameters, {
      ...frame,
      outlines: id => (id === 'frame' ? square : undefined),
    })
    // 60 mm around in three repeats: 9° a millimetre.
    const turn = (x: number, y: number) => (read(x, y).azimuth * 180) / Math.PI
    expect(turn(50, 75)).toBeCloseTo(90, 9)
    expect(turn(60, 80)).toBeCloseTo(225, 9)
    expect(turn(50, 85.3)).toBeCloseTo(360, 9)
    expect(turn(39, 80)).toBeCloseTo(495, 9)
    const gone = prepareEffect({ kind: 'highlight', parameters }, frame)
    expect(gone.warnings?.map(one => one.code)).toEqual(['line-missing'])
  })

  it('finds the nearest point of a spiral as a look at every point does', () => {
    const read = sampler('highlight', { curve: 'spiral', repeatMm: 30, startDeg: 0 })
    const points = Array.from({ length: 30_001 }, (_, i) => {
      const [r, a] = [(10 * i) / 30_000, (6 * Math.PI * i) / 30_000]
      return [50 + r * Math.cos(a), 80 + r * Math.sin(a)] as const
    })
    let along = 0
    const lengths = points.map(([x, y], i) => {
      const [px, py] = points[Math.max(0, i - 1)]!
      along += Math.hypot(x - px, y - py)
      return along
    })
    for (let i = 0; i < 60; i++) {
      const [x, y] = [32 + ((i * 13) % 36), 71 + ((i * 7) % 18)]
      const distances = points.map(([px, py]) => Math.hypot(px - x, py - y))
      const least = Math.min(...distances)
      const at = lengths[distances.indexOf(least)]!
      const found = (read(x, y).azimuth / Math.PI) * 30
      const off = distances[lengths.findIndex(length => length >= found)] ?? least
      // 360 pieces of a curve of this bend lie within 0.01 mm of it; where two arms are equally near either will do.
      expect(Math.abs(off - least)).toBeLessThan(0.02)
      if (Math.abs(found - at) < 3) expect(found).toBeCloseTo(at, 0)
    }
  })
})

describe('picture in fixed colours', () => {
  const tone = (hue: number, more: Partial<ArtTone> = {}): ArtTone => ({
    lightness: 1,
    hue,
    chroma: 1,
    ...more,
  })

  it('sends each colour’s own wavelength straight up at the design angle', () => {
    // λ = d u in first order. For u = 0.5 (a lamp 60° up): 620, 535 and 455 nm ask for 1240, 1070 and 910 nm.
    const read = sampler('flat-image', { lampElevationDeg: 60 })
    expect([0, 1 / 3, 2 / 3].map(hue => Math.round(read(50, 80, tone(hue)).pitch))).toEqual([1240, 1070, 910])
    const steeper = sampler('flat-image', { lampElevationDeg: 45 })
    expect(steeper(50, 80, tone(0)).pitch * Math.cos(Math.PI / 4)).toBeCloseTo(620, 9)
  })

  it('is as bright as the drawing: by depth nearly, by share exactly', () => {
    // A pure green at half its light: coded 0.735 of 1 (sRGB), so lightness 0.735 · 0.7152.
    const half = tone(1 / 3, { lightness: 0.7354 * 0.7152, chroma: 0.7354 })
    const byShare = sampler('flat-image', { lightBy: 'share' })(50, 80, half)
    expect(byShare.share).toBeCloseTo(0.5, 3)
    const [full, dim] = [tone(1 / 3), half].map(
      one => sampler('flat-image', { grooveDepthNm: 60 })(50, 80, one).grooveDepth,
    )
    // First order of a sinusoid, round trip through lacquer straight on: φ = 4π · 1.5 H / λ.
    const power = (depth: number) => orderShare({ shape: 'sinusoid' }, 1, (6 * Math.PI * depth) / 535)
    expect(power(dim!) / power(full!)).toBeGreaterThan(0.5)
    expect(power(dim!) / power(full!)).toBeLessThan(0.6)
  })

  it('knows how bright a colour is whatever its hue', () => {
    // Pure red, green and blue by the weights of Rec. 709.
    for (const [hue, lightness] of [
      [0, 0.2126],
      [1 / 3, 0.7152],
      [2 / 3, 0.0722],
    ] as const)
      expect(brightness({ hue, lightness, chroma: 1 })).toBeCloseTo(1, 12)
    expect(brightness({ hue: 0, lightness: 0.3, chroma: 0 })).toBeCloseTo(0.3, 12)
  })
})

describe('one-sided', () => {
  it('sends to one side what it keeps from the other', () => {
    const field = prepareEffect({ kind: 'one-sided', parameters: {} }, frame)
    // Its 150 nm are a whole wavelength of phase for 450 nm: sinc² is 1 on one side and 0 on the other.
    const φ = (6 * Math.PI * 150) / 450
    const [bright, dark] = [1, -1].map(order => orderShare(field.groove, order, φ))
    expect(Math.max(bright!, dark!)).toBeCloseTo(1, 6)
    expect(Math.min(bright!, dark!)).toBeCloseTo(0, 6)
    expect(
      prepareEffect({ kind: 'one-sided', parameters: { shape: 'sinusoid' } }, frame).warnings?.[0]?.code,
    ).toBe('groove-even')
  })
})

describe('waves', () => {
  it('send the light as the slope of z = ½ H sin 2πu/Λ would', () => {
    const read = sampler('wave', { lengthMm: 10, heightMm: 0.9, runDeg: 0, swayMm: 0, lampElevationDeg: 60 })
    for (const x of [50, 51, 54, 56, 59]) {
      const slope = ((Math.PI * 0.9) / 10) * Math.cos((2 * Math.PI * (x - 50)) / 10)
      const { pitch, azimuth, share } = read(x, 83)
      // A facet of slope s sends the lamp straight up where λ/d = s (1 + sin 60°).
      expect(550 / pitch / (1 + Math.sin(Math.PI / 3))).toBeCloseTo(Math.abs(slope), 9)
      expect(Math.cos(azimuth)).toBeCloseTo(-Math.sign(slope), 9)
      expect(share).toBe(1)
    }
    expect(read(52.5, 80).share).toBe(0)
  })

  it('are the gradient of one surface where they sway', () => {
    const read = sampler('wave', { runDeg: 30, swayMm: 4, heightMm: 0.8 })
    const z = (x: number, y: number) => {
      const [c, s] = [Math.cos(Math.PI / 6), Math.sin(Math.PI / 6)]
      const [u, v] = [(x - 50) * c + (y - 80) * s, (y - 80) * c - (x - 50) * s]
      return 0.4 * Math.sin((2 * Math.PI * (u + 4 * Math.sin((2 * Math.PI * v) / 40))) / 10)
    }
    const h = 1e-5
    for (let i = 0; i < 50; i++) {
      const [x, y] = [31 + ((i * 11) % 38), 71 + ((i * 5) % 18)]
      const slope = [(z(x + h, y) - z(x - h, y)) / (2 * h), (z(x, y + h) - z(x, y - h)) / (2 * h)] as const
      const { azimuth, share } = read(x, y)
      if (share > 0) expect(Math.cos(azimuth - Math.atan2(-slope[1], -slope[0]))).toBeCloseTo(1, 6)
    }
  })

  it('say where they are too steep to be shown, and how high they may be', () => {
    const steep = prepareEffect({ kind: 'wave', parameters: { lengthMm: 5, heightMm: 2 } }, frame)
    expect(steep.warnings?.map(one => one.code)).toEqual(['too-steep'])
    const most = Number(/at most ([\d.]+) mm/.exec(steep.warnings?.[0]?.fix ?? '')?.[1])
    const allowed = prepareEffect(
      { kind: 'wave', parameters: { lengthMm: 5, heightMm: most - 0.005 } },
      frame,
    )
    expect(allowed.warnings).toEqual([])
  })
})

describe('matte', () => {
  it('strays so far that neighbouring places mix to grey', () => {
    // 25 % and more of the pitch and 5° and more of the direction.
    const { spread, jitter } = sampler('matte', {})(50, 80)
    expect(spread).toBeGreaterThanOrEqual(0.25)
    expect(jitter).toBeGreaterThanOrEqual((5 * Math.PI) / 180)
    expect(() => sampler('matte', { spreadPercent: 20 })).toThrow('spreadPercent: expected a number 25..50')
    expect(sampler('matte', { pitchNm: 8000 })(50, 80).pitch).toBe(8000)
  })
})
