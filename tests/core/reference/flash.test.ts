import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { FlashMeter, type FlashStretch, flashHeight, flashWidth } from '../../../core/reference/flash.ts'

/**
 * WCAG 2.2, success criterion 2.3.1 and its definition "general flash and red flash thresholds": more than three flashes
 * in a second; a flash is a pair of opposing changes of 0.1 or more with the darker below 0.80, or a pair to and from
 * R/(R+G+B) ≥ 0.8 and more than 0.2 apart in u′v′; 25 % of any 10° field, 341 × 256 px of 1024 × 768.
 */

type Rgb = readonly [number, number, number]
const grey = (Y: number): Rgb => [Y, Y, Y]
const framesASecond = 30

/** Plays a sequence over a rectangle of places, the rest black. */
function play(
  seconds: number,
  color: (timeS: number) => Rgb,
  box = { x: 0, y: 0, width: flashWidth, height: flashHeight },
  rate = framesASecond,
): readonly FlashStretch[] {
  const meter = new FlashMeter()
  const rgb = new Float32Array(3 * flashWidth * flashHeight)
  for (let i = 0; i <= seconds * rate; i++) {
    const [r, g, b] = color(i / rate)
    for (let y = box.y; y < box.y + box.height; y++)
      for (let x = box.x; x < box.x + box.width; x++) rgb.set([r, g, b], 3 * (y * flashWidth + x))
    meter.add(i / rate, rgb)
  }
  return meter.stretches()
}

/** Between two colours, so many times a second, half the time each; the small step keeps ends off frame times. */
const square =
  (hz: number, a: Rgb, b: Rgb) =>
  (t: number): Rgb =>
    Math.floor((t + 1e-6) * 2 * hz) % 2 === 0 ? a : b

describe('general flashes', () => {
  test('three a second pass, four do not', () => {
    expect(play(4, square(3, grey(0), grey(1)))).toEqual([])
    const [found] = play(4, square(4, grey(0), grey(1)))
    expect(found).toMatchObject({ kind: 'general', part: 1, flashes: 4 })
  })

  test('a change below a tenth of white is none', () => {
    expect(play(3, square(6, grey(0.2), grey(0.299)))).toEqual([])
    expect(play(3, square(6, grey(0.2), grey(0.301)))).toHaveLength(1)
  })

  test('with the darker end at 0.80 or above there is no flash', () => {
    expect(play(3, square(6, grey(0.8), grey(1)))).toEqual([])
    expect(play(3, square(6, grey(0.79), grey(1)))).toHaveLength(1)
  })

  test('a slow swing up and down is counted once, however many frames it takes', () => {
    const wave = (hz: number) => (t: number) => grey(0.5 - 0.5 * Math.cos(2 * Math.PI * hz * t))
    expect(play(4, wave(3), undefined, 60)).toEqual([])
    expect(play(4, wave(4.1), undefined, 60)).toHaveLength(1)
  })

  test('a step up that stays is no flash, and neither is a stair', () => {
    expect(play(3, t => grey(t < 1 ? 0 : 1))).toEqual([])
    expect(play(3, t => grey(Math.floor(t * 6) / 18))).toEqual([])
  })

  test('the seconds are named', () => {
    const burst = square(5, grey(0), grey(0.6))
    const found = play(6, t => (t >= 2 && t < 4 ? burst(t) : grey(0)))
    expect(found).toHaveLength(1)
    const { fromS, toS } = found[0]!
    // The seventh change comes 0.6 s into the burst; the second before it is named whole, and the last second after it.
    expect(fromS).toBeGreaterThan(1.5)
    expect(fromS).toBeLessThanOrEqual(2)
    expect(toS).toBeGreaterThanOrEqual(4)
    expect(toS).toBeLessThanOrEqual(4.5)
  })

  test('two bursts apart are two stretches', () => {
    const burst = square(5, grey(0), grey(0.6))
    const lit = (t: number) => (t >= 1 && t < 2) || (t >= 6 && t < 7)
    expect(play(9, t => (lit(t) ? burst(t) : grey(0)))).toHaveLength(2)
  })
})

describe('area', () => {
  // A field is 341 × 256 px of 1024 × 768: 21 × 16 places of 16 px here, so that 84 places are its quarter.
  test('a quarter of a field may flash, more may not', () => {
    const flash = square(5, grey(0), grey(1))
    expect(play(3, flash, { x: 30, y: 20, width: 21, height: 4 })).toEqual([])
    expect(play(3, flash, { x: 30, y: 20, width: 17, height: 5 })).toHaveLength(1)
  })

  test('it does not matter where', () => {
    const place = fc.record({
      x: fc.integer({ min: 0, max: flashWidth - 10 }),
      y: fc.integer({ min: 0, max: flashHeight - 10 }),
    })
    fc.assert(
      fc.property(place, ({ x, y }) => {
        expect(play(2, square(5, grey(0), grey(1)), { x, y, width: 10, height: 10 })).toHaveLength(1)
        expect(play(2, square(5, grey(0), grey(1)), { x, y, width: 9, height: 9 })).toEqual([])
      }),
      { numRuns: 12 },
    )
  })

  test('light that runs over the picture flashes nowhere more than once', () => {
    const meter = new FlashMeter()
    for (let i = 0; i <= 120; i++) {
      const rgb = new Float32Array(3 * flashWidth * flashHeight)
      for (let y = 0; y < flashHeight; y++)
        for (let x = 0; x < flashWidth; x++)
          if (Math.abs(x - (i * flashWidth) / 120) < 3)
            rgb.fill(1, 3 * (y * flashWidth + x), 3 * (y * flashWidth + x) + 3)
      meter.add(i / 30, rgb)
    }
    expect(meter.stretches()).toEqual([])
  })
})

describe('red flashes', () => {
  const red: Rgb = [0.3, 0, 0]
  test('saturated red against grey of the same luminance counts, though no light changes', () => {
    const Y = 0.2126 * 0.3
    expect(play(3, square(3, red, grey(Y)))).toEqual([])
    expect(play(3, square(5, red, grey(Y)))).toMatchObject([{ kind: 'red' }])
  })

  test('0.8 of the light must be red, and the change be above 0.2 in u′v′', () => {
    // R/(R+G+B) of 0.79 is none. From the red primary (0.4507, 0.5229) to 0.8/0.2/0 is 0.14 in u′v′: too near.
    const Y = 0.05
    expect(play(3, square(5, [0.79 * Y, 0.105 * Y, 0.105 * Y], grey(Y / 3)))).toEqual([])
    expect(play(3, square(5, [0.2, 0, 0], [0.16, 0.04, 0]))).toEqual([])
  })

  test('a slow swing to red and back is counted once', () => {
    const swing =
      (hz: number) =>
      (t: number): Rgb => {
        const part = 0.5 - 0.5 * Math.cos(2 * Math.PI * hz * t)
        const rest = 0.06 * (1 - part)
        return [rest + 0.28 * part, rest, rest]
      }
    expect(play(4, swing(2.9), undefined, 60)).toEqual([])
    expect(play(4, swing(4.1), undefined, 60)).toMatchObject([{ kind: 'red' }])
  })

  test('red that goes out and comes again is a red flash, though its luminance changes by less than a tenth', () => {
    expect(play(3, square(5, [0.3, 0, 0], grey(0)))).toMatchObject([{ kind: 'red' }])
  })
})
