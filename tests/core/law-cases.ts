import fc from 'fast-check'
import { blazed, type Groove, rectangular, sampled, sinusoid } from '../../core/optics/groove.ts'
import type { Grating, Stack } from '../../core/optics/matter.ts'
import { toward } from '../support/optics.ts'

/** Anything that a law must hold for, made by chance. */

export const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })

export const anyDirection = fc
  .tuple(number(0, 75), number(-180, 180))
  .map(([polar, azimuth]) => toward(polar, azimuth))

/** Waves of three harmonics: no flank is steep. */
export const smoothGroove: fc.Arbitrary<Groove> = fc
  .tuple(number(0, 1), number(0, 1), number(0, 6.28), number(0, 6.28))
  .map(([second, third, a, b]) =>
    sampled(
      'wave',
      Array.from({ length: 64 }, (_, i) => {
        const x = (2 * Math.PI * i) / 64
        return Math.sin(x) + 0.3 * second * Math.sin(2 * x + a) + 0.1 * third * Math.sin(3 * x + b)
      }),
    ),
  )

export const anyGroove: fc.Arbitrary<Groove> = fc.oneof(
  fc.constant(sinusoid),
  number(0.1, 0.9).map(rectangular),
  fc.constant(blazed),
  smoothGroove,
)

export const anyGrating: fc.Arbitrary<Grating> = fc.record({
  pitch: number(667, 2500),
  azimuth: number(-Math.PI, Math.PI),
  grooveDepth: number(0, 150),
  groove: anyGroove,
  share: number(0.05, 0.5),
  spreadAlong: number(0, 2e-4),
  spreadAcross: number(0, 2e-4),
})

export const anyCmyk: fc.Arbitrary<Stack['cmyk']> = fc.tuple(
  number(0, 1),
  number(0, 1),
  number(0, 1),
  number(0, 1),
)
