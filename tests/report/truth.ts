import fc from 'fast-check'
import { deltaE2000 } from '../../core/color/deltae.ts'
import { xyzToLab } from '../../core/color/lab.ts'
import { illuminantWhite } from '../../core/color/spectrum.ts'
import type { XYZ } from '../../core/color/xyz.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { blazed, type Groove, rectangular, sinusoid } from '../../core/optics/groove.ts'
import type { Stack } from '../../core/optics/matter.ts'
import { defaultBoard, type IlluminantName } from '../../core/optics/scene.ts'
import { seen, underLamp } from '../../core/optics/stack.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { shade } from '../../core/reference/shade.ts'
import { foil, sinusoid as grating, platesOf, raysOf, siteOf, toward } from '../support/optics.ts'

/** One foil tilted through the light of one lamp. */
export interface Sweep {
  readonly groove: Groove
  readonly grooveDepth: number
  readonly linesPerMm: number
  /** Lamp beside the plane across the grooves, degrees. */
  readonly aside: number
  readonly cmyk: Stack['cmyk']
  /** Standard deviation of the lamp, radians. */
  readonly spread: number
  readonly illuminant: IlluminantName
}

/** What is compared: every combination of these. */
export const choices = {
  groove: [
    { groove: sinusoid, grooveDepth: 100 },
    { groove: rectangular(), grooveDepth: 75 },
    { groove: blazed, grooveDepth: 180 },
  ],
  linesPerMm: [600, 800, 1000, 1400],
  aside: [0, 1.2, 20],
  cmyk: [
    [0, 0, 0, 0],
    [0, 1, 0, 0],
    [0, 0, 1, 0],
    [0.7, 0.2, 0.1, 0],
  ],
  spread: [0.0023, 0.01, 0.04],
  illuminant: ['D65', 'LED-B3', 'FL11', 'A'],
} as const

export function allSweeps(): Sweep[] {
  const out: Sweep[] = []
  for (const illuminant of choices.illuminant)
    for (const spread of choices.spread)
      for (const cmyk of choices.cmyk)
        for (const aside of choices.aside)
          for (const linesPerMm of choices.linesPerMm)
            for (const { groove, grooveDepth } of choices.groove)
              out.push({ groove, grooveDepth, linesPerMm, aside, cmyk, spread, illuminant })
  return out
}

/** Sweeps between those of {@link allSweeps}, by chance but always the same: nobody tuned anything on them. */
export function randomSweeps(count: number): Sweep[] {
  const { groove, spread, illuminant } = choices
  const between = (min: number, max: number) => fc.double({ min, max, noNaN: true })
  const tone = fc.oneof(fc.constant(0), between(0, 1))
  const sweep = fc.record({
    groove: fc.constantFrom(...groove.map(one => one.groove)),
    grooveDepth: between(50, 180),
    linesPerMm: between(550, 1450),
    aside: fc.oneof(fc.constant(0), between(0, 3), between(3, 25)),
    cmyk: fc.tuple(tone, tone, tone, fc.oneof(fc.constant(0), between(0, 0.5))),
    spread: fc.constantFrom(...spread),
    illuminant: fc.constantFrom(...illuminant),
  })
  return fc.sample(sweep, { numRuns: count, seed: 20261 })
}

/** Largest difference allowed to the sum over every nanometre, ΔE00. */
export function allowed({ spread, illuminant }: Sweep): number {
  if (spread > 0.01) return 3
  return illuminant === 'FL11' ? 2.5 : 1
}

/**
 * Tilts of a sweep, degrees; the mirror order is hundreds of times brighter and left out. At 30° the lamp stands
 * straight over the foil, in the plane across the grooves however far aside it was: there a sweep has its flash.
 */
const tilts = [
  ...Array.from({ length: 43 }, (_, i) => -28.3 + 1.97 * i).filter(t => Math.abs(30 - 2 * t) > 12),
  30,
]

/**
 * ΔE00 between the fast shading (band samples) and the sum over every nanometre, tilt by tilt. The sweep's peak is
 * exposed to L* = 100; places below a thousandth of it are left out.
 */
export function differences(sweep: Sweep): number[] {
  const { groove, grooveDepth, linesPerMm, aside, cmyk, spread, illuminant } = sweep
  const stack = { ...foil({ ...grating, groove, grooveDepth, pitch: 1e6 / linesPerMm }), cmyk }
  const tables = tablesFor(stack, illuminant)
  const white = illuminantWhite(illuminant)
  const dark = { up: [0, 0.8, 0.6], level: 0 } as const
  const points = tilts.map(tilt => {
    const rays = raysOf(toward(30 - tilt, aside), toward(-tilt), spread)
    const fast = shade(siteOf(stack, rays, tables), tables, dark, new Float64Array(3))
    return {
      fast: [fast[0]!, fast[1]!, fast[2]!] as XYZ,
      slow: underLamp(seen(stack, rays, illuminant, defaultBoard)),
    }
  })
  const peak = Math.max(...points.map(({ slow }) => slow[1]))
  const lab = ([X, Y, Z]: XYZ) => xyzToLab([X / peak, Y / peak, Z / peak], white)
  return points
    .filter(({ slow }) => slow[1] >= 0.001 * peak)
    .map(({ fast, slow }) => deltaE2000(lab(fast), lab(slow)))
}

const baked = new Map<string, Tables>()
function tablesFor(stack: Stack, illuminant: IlluminantName): Tables {
  const plates = platesOf(stack)
  const key = JSON.stringify([illuminant, plates])
  const tables = baked.get(key) ?? bakeTables({ illuminant, board: defaultBoard, ...plates })
  baked.set(key, tables)
  return tables
}

/** Most and mean of a group of sweeps. */
export interface TruthRow {
  readonly illuminant: IlluminantName
  readonly spread: number
  readonly places: number
  readonly worst: number
  readonly mean: number
  /** Sweeps that pass what is allowed to them. */
  readonly off: number
}

export function truthTable(sweeps: readonly Sweep[]): TruthRow[] {
  const groups = new Map<string, { first: Sweep; found: number[]; off: number }>()
  for (const sweep of sweeps) {
    const key = `${sweep.illuminant} ${sweep.spread}`
    const group = groups.get(key) ?? { first: sweep, found: [], off: 0 }
    groups.set(key, group)
    const found = differences(sweep)
    group.found.push(...found)
    if (Math.max(0, ...found) > allowed(sweep)) group.off++
  }
  return [...groups.values()].map(({ first, found, off }) => ({
    illuminant: first.illuminant,
    spread: first.spread,
    places: found.length,
    worst: Math.max(0, ...found),
    mean: found.reduce((sum, d) => sum + d, 0) / Math.max(1, found.length),
    off,
  }))
}
