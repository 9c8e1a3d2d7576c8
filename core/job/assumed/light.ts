import { pupilRadius } from '../../optics/scene.ts'
import { setLight, setPrint, setView } from '../edit.ts'
import type { Job } from '../job.ts'
import { newPrint, usualLux } from '../usual.ts'
import { type AssumedNumber, field } from './number.ts'

const inks = ['Cyan', 'Magenta', 'Yellow', 'Black'] as const

/** Print condition, inks on foil and spot inks. */
export function assumedOfPrint({ print, spots, found }: Job): AssumedNumber[] {
  const gains = inks.map(
    (ink, i): AssumedNumber => ({
      key: `print.toneGain.${i}`,
      group: 'Print',
      name: `${ink}: tone gain on foil`,
      says: 'Tone value that a screen gains at 50 % on bare metal. On white the profile holds its own.',
      unit: '%',
      value: 100 * print.toneGain[i]!,
      usual: 100 * newPrint.toneGain[i]!,
      range: [0, 20],
      status: 'proposed',
      source: 'no source for non-porous metallised stock',
      measure: 'A 50 % patch on plain foil: area covered under the microscope, less 50 %.',
      field: field([0, 35], 1, percent => job => {
        const next = job.print.toneGain.map((old, at) => (at === i ? percent / 100 : old))
        return setPrint({ toneGain: [next[0]!, next[1]!, next[2]!, next[3]!] })(job)
      }),
    }),
  )
  const words = (
    key: string,
    name: string,
    says: string,
    value: string,
    rest: Pick<AssumedNumber, 'status' | 'source' | 'measure'>,
  ): AssumedNumber => ({
    ...{ key, group: 'Print', name, says, unit: '', value, usual: value, range: null, field: null },
    ...rest,
  })
  return [
    {
      ...words(
        'print.profile',
        'Print condition',
        'Profile that says what inks look like on white. Set in the card of the print.',
        print.profile?.path ?? 'the one that ships: offset on coated, FOGRA39',
        {
          status: 'published',
          source: 'FOGRA39L characterisation data (2006)',
          measure: 'Print a test chart on the job’s board over full white and have a profile made.',
        },
      ),
      usual: 'the one that ships: offset on coated, FOGRA39',
    },
    words(
      'print.inkSpectra',
      'Ink spectra on foil',
      'How each ink filters light on metal, wavelength by wavelength.',
      'the smoothest that have the profile’s solids',
      {
        status: 'computed',
        source: 'fitted to the sixteen solids of the print condition; no ink was measured on foil',
        measure: 'Print the solids on clear film and measure their transmittance, 380 to 780 nm.',
      },
    ),
    ...gains,
    ...spots.map(({ target, lab, spectrum }) =>
      words(
        `spot.${target.kind}.${target.id}`,
        `${found.find(one => one.target.kind === target.kind && one.target.id === target.id)?.name ?? target.id}: colour`,
        'Colour of the solid spot ink on white board. Set in its card.',
        spectrum !== null ? 'its own spectrum' : `L* a* b* ${(lab ?? []).join(' ')}`,
        {
          status: 'computed',
          source: 'entered in the job; on foil its spectrum follows from it',
          measure: 'Spectrophotometer on a solid over white board, D50, 2°, M1.',
        },
      ),
    ),
  ]
}

/** Lamps, room and the eye. */
export function assumedOfLight({ light, view }: Job): AssumedNumber[] {
  const lamps = light.lamps.flatMap((lamp, i): AssumedNumber[] => [
    {
      key: `light.${i}.lux`,
      group: 'Light and eye',
      name: `${lamp.name}: illuminance`,
      says: 'Light that it gives the untilted panel in its middle.',
      unit: 'lx',
      value: lamp.lux,
      usual: usualLux,
      range: [50, 10_000],
      status: 'published',
      source: 'ISO 3664, practical appraisal, as quoted by secondary pages',
      measure: 'Lux meter flat on the panel, other lamps off.',
      field: field([0, 1_000_000], 50, value => job => {
        const [hand, ...others] = job.light.lamps
        return setLight({
          lamps:
            i === 0
              ? [{ ...hand, lux: value }, ...others]
              : [hand, ...others.map((one, at) => (at === i - 1 ? { ...one, lux: value } : one))],
        })(job)
      }),
    },
    {
      key: `light.${i}.spectrum`,
      group: 'Light and eye',
      name: `${lamp.name}: spectrum`,
      says: 'What the lamp burns. Set in the light strip.',
      unit: '',
      value: lamp.spectrum === null ? lamp.illuminant : 'its own, from a file',
      usual: 'D65',
      range: null,
      status: 'published',
      source: 'CIE 015:2018, relative spectra of standard illuminants; a real lamp differs',
      measure: 'Spectroradiometer on a white plate under the lamp; load the table in the light strip.',
      field: null,
    },
  ])
  return [
    ...lamps,
    {
      key: 'light.roomLevel',
      group: 'Light and eye',
      name: 'Light of the room',
      says: 'Brightest part of the room in white paper under the lamps. Foil shows it wherever no lamp is.',
      unit: '',
      value: light.roomLevel,
      usual: 0.15,
      range: [0, 0.5],
      status: 'proposed',
      source: 'no source; keeps foil from being a black hole',
      measure: 'Luminance of the brightest wall by that of white paper under the lamps.',
      field: field([0, 100], 0.05, value => setLight({ roomLevel: value })),
    },
    {
      key: 'view.eyeDistanceMm',
      group: 'Light and eye',
      name: 'Distance of the eye',
      says: 'From the middle of the panel.',
      unit: 'mm',
      value: view.eyeDistanceMm,
      usual: 400,
      range: [250, 700],
      status: 'common practice',
      source: 'reading distance; common practice, no source',
      measure: 'Tape measure.',
      field: field([10, 100_000], 10, value => setView({ eyeDistanceMm: value })),
    },
    {
      key: 'view.pupil',
      group: 'Light and eye',
      name: 'Pupil',
      says: 'Diameter of the pupil or lens that looks; it blurs each colour a little.',
      unit: 'mm',
      value: 2 * pupilRadius,
      usual: 2 * pupilRadius,
      range: [2, 6],
      status: 'from memory',
      source: 'adult eye in indoor light, 3 to 5 mm',
      measure: 'Not set a job: below the blur of the board’s waviness.',
      field: null,
    },
  ]
}
