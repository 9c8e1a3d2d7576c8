import { assumedWhite } from '../../material/plates.ts'
import { usualOpacity } from '../../material/stated.ts'
import { contrastOf } from '../../optics/opacity.ts'
import type { Target } from '../../roles/role.ts'
import { sameTarget, setWhite, setWhiteInk } from '../edit.ts'
import type { Job } from '../job.ts'
import { newWhiteInk } from '../usual.ts'
import { type AssumedNumber, field } from './number.ts'

/** A white plate by the layer, group or channel that prints it. */
export interface NamedPlate {
  readonly target: Target
  readonly name: string
  /** Solidity of its ink as the art states it, 0..1; null where it states none. */
  readonly stated: number | null
}

/** Numbers of the white ink and of each white plate. */
export function assumedOfWhite(job: Job, plates: readonly NamedPlate[]): AssumedNumber[] {
  return [forwardness(job), absorption, ...platesWith(job, plates).flatMap(plate => ofPlate(job, plate))]
}

/** The plates that the art has, and those that only the job knows. */
function platesWith(job: Job, plates: readonly NamedPlate[]): NamedPlate[] {
  const others = job.whites.filter(white => !plates.some(plate => sameTarget(plate.target, white.target)))
  return [
    ...plates,
    ...others.map(({ target }) => ({
      target,
      name: job.found.find(one => sameTarget(one.target, target))?.name ?? target.id,
      stated: null,
    })),
  ]
}

function forwardness({ whiteInk }: Job): AssumedNumber {
  return {
    key: 'whiteInk.forwardness',
    group: 'White',
    name: 'Forward scattering of the pigment',
    says: 'Mean cosine of scattering. The higher it is, the more of a sharp flash a white of the same opacity takes away.',
    unit: '',
    value: whiteInk.forwardness,
    usual: newWhiteInk.forwardness,
    range: [0.4, 0.75],
    status: 'from memory',
    source: 'titanium dioxide in binder; textbooks give 0.4 to 0.6',
    measure:
      'Print one solid hit on clear film: the sharp part of a small lamp’s light that comes straight through, against its opacity.',
    field: field([0, 0.95], 0.05, value => setWhiteInk({ forwardness: value })),
  }
}

const absorption: AssumedNumber = {
  key: 'whiteInk.absorption',
  group: 'White',
  name: 'Absorption of the white',
  says: 'Taken as none, so that what a white does not reflect it lets through.',
  unit: '',
  value: 'none',
  usual: 'none',
  range: null,
  status: 'proposed',
  source: 'rutile white reflects 96 % and more of visible light in a thick layer, from memory',
  measure: 'Reflectance R of many hits on each other; K/S = (1 − R)² / 2R (Kubelka & Munk 1931).',
  field: null,
}

function ofPlate(job: Job, plate: NamedPlate): AssumedNumber[] {
  const told = job.whites.find(white => sameTarget(white.target, plate.target))
  const usual = plate.stated ?? assumedWhite.opacity
  const now: Job['whites'][number] = told ?? {
    target: plate.target,
    opacity: { from: 'contrast', value: usual },
    hits: assumedWhite.hits,
    mottle: assumedWhite.mottle,
    screen: assumedWhite.screen,
    toneGain: assumedWhite.toneGain,
  }
  // The entry may have changed since the list was made; an edit starts from the job that it is given.
  const set = (change: Partial<Job['whites'][number]>) => (given: Job) =>
    setWhite({ ...now, ...given.whites.find(white => sameTarget(white.target, plate.target)), ...change })(
      given,
    )
  const base = { group: 'White' as const, unit: '' }
  const key = (what: string) => `white.${plate.target.kind}.${plate.target.id}.${what}`
  return [
    {
      ...base,
      key: key('opacity'),
      name: `${plate.name}: opacity of one hit`,
      says: 'Contrast ratio of the solid, over black by over 0.89, as an instrument reads it. Not the coverage, which comes from the art.',
      unit: '%',
      value: 100 * contrastOf(now.opacity),
      usual: 100 * usual,
      range: [100 * usualOpacity[0], 100 * usualOpacity[1]],
      ...(plate.stated === null
        ? {
            status: 'common practice' as const,
            source:
              'one hit of flexo 48–55, offset 30–45, inkjet 55–75, screen 70–90 %: plant figures and memory',
          }
        : {
            status: 'from the file' as const,
            source:
              'solidity of its ink as the art states it; ISO 32000-2, table 72, does not say how it is measured, so it is an estimate',
          }),
      measure: 'Draw or print the solid on a contrast card; spectrophotometer, Y over black by Y over white.',
      field: field([0, 100], 1, percent => set({ opacity: { from: 'contrast', value: percent / 100 } })),
    },
    {
      ...base,
      key: key('hits'),
      name: `${plate.name}: hits`,
      says: 'How often the plate prints.',
      value: now.hits,
      usual: assumedWhite.hits,
      range: [1, 3],
      status: 'common practice',
      source: 'one pass until the printer says otherwise',
      measure: 'Ask the printer.',
      field: field([1, 9], 1, hits => set({ hits: Math.round(hits) })),
    },
    {
      ...base,
      key: key('mottle'),
      name: `${plate.name}: mottle`,
      says: 'Unevenness of the coat, rms part of its strength.',
      unit: '%',
      value: 100 * now.mottle,
      usual: 100 * assumedWhite.mottle,
      range: [0, 30],
      status: 'proposed',
      source: 'no source; 0 is an even coat',
      measure: 'Scan a solid over black; rms of its reflectance over places of a millimetre, by its mean.',
      field: field([0, 100], 1, percent => set({ mottle: percent / 100 })),
    },
    {
      ...base,
      key: key('toneGain'),
      name: `${plate.name}: tone gain`,
      says: 'Tone value that a screen of this white gains at 50 %.',
      unit: '%',
      value: 100 * now.toneGain,
      usual: 100 * assumedWhite.toneGain,
      range: [0, 25],
      status: 'proposed',
      source: 'no source; depends on press, plate and stock',
      measure: 'A 50 % patch of white on foil under the microscope: covered area less 50 %.',
      field: field([0, 35], 1, percent => set({ toneGain: percent / 100 })),
    },
  ]
}
