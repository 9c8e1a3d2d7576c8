import type { Lamp, LampForm, Scene } from '../reference/scene.ts'
import type { Job } from './job.ts'

/** Lamps and room that are put up together, by a published level where there is one. */
export interface Rig {
  readonly name: string
  /** What it is for, a few words. */
  readonly says: string
  /** Where its numbers come from, and which of them are only usual. */
  readonly source: string
  readonly light: Scene['light']
}

type Edit = (job: Job) => Job

/** Light of a rig in place of the job's; lamp paths go on moving the first lamp. */
export const applyRig =
  (rig: Rig): Edit =>
  job => ({ ...job, light: rig.light })

/** Index of the rig that a light still is; null when something of it was changed. */
export function rigOf(light: Scene['light']): number | null {
  const found = rigs.findIndex(rig => sameLight(rig.light, light))
  return found < 0 ? null : found
}

const sameLight = (a: Scene['light'], b: Scene['light']): boolean =>
  a === b || JSON.stringify(a) === JSON.stringify(b)

const practice = 'Sizes and places: common practice, no source.'

/**
 * A booth lights from 45° above, so that no gloss meets the eye, and spreads its light so far that holography fades;
 * the point beside it brings the flash. It comes first, because lamp paths would carry a booth into the panel.
 */
const point: Lamp = disc('Point of light', [60, 60, 500], 10, 'D50', 500)

export const rigs: readonly Rig[] = [
  rig(
    'Critical viewing and a point of light',
    'Booth at 2000 lx for the print, a point for the flash',
    `ISO 3664, condition P1: D50, 2000 lx. The point of light is ours: a booth alone hides holography. ${practice}`,
    [point, rectangle('Booth', [90, 45, 900], [1200, 600], 'D50', 2000)],
    0.3,
  ),
  rig(
    'Practical viewing and a point of light',
    'Booth at 500 lx for the print, a point for the flash',
    `ISO 3664, condition P2: D50, 500 lx. The point of light is ours: a booth alone hides holography. ${practice}`,
    [{ ...point, lux: 250 }, rectangle('Booth', [90, 45, 900], [1200, 600], 'D50', 500)],
    0.3,
  ),
  rig(
    'Booth alone',
    'What a booth makes of it: even light, little holography',
    `ISO 3664, condition P1: D50, 2000 lx. ${practice}`,
    [{ ...point, lux: 0 }, rectangle('Booth', [90, 45, 900], [1200, 600], 'D50', 2000)],
    0.3,
  ),
  rig(
    'Shop shelf',
    'Two strips of neutral LED and a spot, as over a shelf',
    `Illuminants CIE 015:2018, LED-B3. Levels: common practice, no source. ${practice}`,
    [
      disc('Spot', [70, 55, 1800], 80, 'LED-B3', 400),
      rectangle('Strip, left', [120, 60, 1500], [1500, 40], 'LED-B3', 400),
      rectangle('Strip, right', [60, 60, 1500], [1500, 40], 'LED-B3', 400),
    ],
    0.25,
  ),
  rig(
    'Window by day',
    'A window of daylight beside the table',
    `Illuminant CIE 015:2018, D65. Level: common practice, no source. ${practice}`,
    [{ ...point, lux: 0 }, rectangle('Window', [180, 35, 1500], [1000, 1400], 'D65', 1000)],
    0.35,
  ),
  rig(
    'Desk lamp in the evening',
    'One tungsten bulb, else dark',
    `Illuminant CIE 015:2018, A. Level: common practice, no source. ${practice}`,
    [disc('Desk lamp', [120, 50, 500], 60, 'A', 500)],
    0.05,
  ),
  rig(
    'Torch of a phone',
    'The smallest lamp, near: the sharpest colours',
    `Illuminant CIE 015:2018, LED-B5. Level: common practice, no source. ${practice}`,
    [disc('Torch', [80, 60, 300], 5, 'LED-B5', 300)],
    0.05,
  ),
]

type Place = readonly [azimuthDeg: number, elevationDeg: number, distanceMm: number]

function rig(
  name: string,
  says: string,
  source: string,
  lamps: readonly [Lamp, ...Lamp[]],
  roomLevel: number,
): Rig {
  return { name, says, source, light: { lamps, roomLevel } }
}

function disc(
  name: string,
  at: Place,
  diameterMm: number,
  illuminant: Lamp['illuminant'],
  lux: number,
): Lamp {
  return lampAt(name, at, diameterMm, { kind: 'disc' }, illuminant, lux)
}

function rectangle(
  name: string,
  at: Place,
  [widthMm, heightMm]: readonly [number, number],
  illuminant: Lamp['illuminant'],
  lux: number,
): Lamp {
  const form = { kind: 'rectangle', widthMm, heightMm, rollDeg: 0 } as const
  return lampAt(name, at, heightMm, form, illuminant, lux)
}

function lampAt(
  name: string,
  [azimuthDeg, elevationDeg, distanceMm]: Place,
  diameterMm: number,
  form: LampForm,
  illuminant: Lamp['illuminant'],
  lux: number,
): Lamp {
  return {
    name,
    pose: { azimuthDeg, elevationDeg, distanceMm, diameterMm },
    form,
    illuminant,
    spectrum: null,
    lux,
  }
}
