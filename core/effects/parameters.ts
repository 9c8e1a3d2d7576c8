import { BadInput } from '../base/finding.ts'
import { type Groove, grooveShapes, sampled } from '../optics/groove.ts'
import type { EffectChoice, EffectControl } from './effect.ts'

export { validatedPitch } from '../optics/cap.ts'

export type Parameters = Readonly<Record<string, unknown>>

/** Pitches a job may ask for, nm. Below 400 colour comes from order 0, above 5000 from mirrors: outside the model. */
export const pitchRange: readonly [number, number] = [400, 5000]
/** Coarser ones, nm, are allowed where the pitch scatters by this part at least: then no colour is left to get wrong. */
export const coarsestScattered = 10_000
export const colorlessSpread = 0.25
/** Pixels of relief hold whole nanometres up to this. */
export const deepest = 255

export const pitchControl: EffectControl = {
  key: 'pitchNm',
  label: 'Pitch',
  unit: 'nm',
  min: pitchRange[0],
  max: coarsestScattered,
  step: 10,
  says: 'From one groove to the next. Finer grooves spread the rainbow wider and send it farther from the mirror direction.',
}
export const azimuthControl: EffectControl = {
  key: 'azimuthDeg',
  label: 'Direction',
  unit: 'deg',
  min: -360,
  max: 360,
  step: 1,
  says: 'Across the grooves, from the panel’s right, counter-clockwise. The rainbow runs when the carton tilts along it.',
}
/** Controls that every kind has: the relief itself. */
export const reliefControls: readonly EffectControl[] = [
  {
    key: 'grooveDepthNm',
    label: 'Groove depth',
    unit: 'nm',
    min: 0,
    max: deepest,
    step: 1,
    says: 'From peak to valley. It sets how bright the colours are and what tone the metal has straight on.',
  },
  {
    key: 'sharePercent',
    label: 'Share of the area',
    unit: 'percent',
    min: 0,
    max: 100,
    step: 1,
    says: 'How much of the area has grooves, in cells too small to see. The rest stays a mirror.',
  },
  {
    key: 'dutyPercent',
    label: 'Groove duty',
    unit: 'percent',
    min: 5,
    max: 95,
    step: 1,
    says: 'Width of the raised part of each groove. At 50 % every second colour order is dark.',
    when: { key: 'shape', values: ['rectangular'] },
  },
]
/** Controls of kinds with one grating at a place: how much its lines stray. */
export const scatterControls: readonly EffectControl[] = [
  {
    key: 'spreadPercent',
    label: 'Pitch scatter',
    unit: 'percent',
    min: 0,
    max: 60,
    step: 1,
    says: 'How much the pitch varies from place to place (standard deviation). Colours grow paler; from 25 % on the area is silvery.',
  },
  {
    key: 'jitterDeg',
    label: 'Direction scatter',
    unit: 'deg',
    min: 0,
    max: 60,
    step: 1,
    says: 'How much the direction varies from place to place (standard deviation). The area lights up over a wider turn, less bright.',
  },
]
export const scatterDefaults = { spreadPercent: 0, jitterDeg: 0 } as const
/** Kinds that leave much to chance: another number, another scatter. */
export const seedControl: EffectControl = {
  key: 'seed',
  label: 'Scatter number',
  unit: '',
  min: 0,
  max: 9999,
  step: 1,
  says: 'Another number scatters it anew; the same number always gives the same.',
}
export const centerControls: readonly EffectControl[] = [
  { key: 'offsetXMm', label: 'Centre to the right', unit: 'mm', min: -2000, max: 2000, step: 0.5 },
  { key: 'offsetYMm', label: 'Centre upwards', unit: 'mm', min: -2000, max: 2000, step: 0.5 },
]
export const shapeChoice: EffectChoice = {
  key: 'shape',
  label: 'Groove shape',
  options: [
    { value: 'sinusoid', label: 'Sinusoid' },
    { value: 'rectangular', label: 'Rectangular' },
    { value: 'blazed', label: 'Blazed, bright from one side' },
    { value: 'sampled', label: 'Measured profile' },
  ],
}

/** A 60 nm sinusoid everywhere: an assumed relief, which keeps the board silver to champagne. */
export const reliefDefaults = {
  grooveDepthNm: 60,
  sharePercent: 100,
  shape: 'sinusoid',
  dutyPercent: 50,
  profile: null,
} as const

/** Parameters of one effect, read with the defaults filled in; every complaint names effect and parameter. */
export class ParameterReader {
  readonly #all: Parameters

  /** @param defaults  name every parameter that the kind knows */
  constructor(
    readonly kind: string,
    parameters: Parameters,
    defaults: Parameters,
  ) {
    for (const key of Object.keys(parameters))
      if (!Object.hasOwn(defaults, key))
        this.refuse(
          key,
          'is not a parameter of this effect',
          `Known are ${Object.keys(defaults).join(', ')}.`,
        )
    this.#all = { ...defaults, ...parameters }
  }

  get(key: string): unknown {
    return this.#all[key]
  }

  /** A number inside its control's range. */
  number(control: EffectControl): number {
    return this.inRange(control.key, this.#all[control.key], control.min, control.max, control.unit)
  }

  /** A whole number inside its control's range. */
  whole(control: EffectControl): number {
    const value = this.number(control)
    if (Number.isInteger(value)) return value
    return this.refuse(control.key, `expected a whole number, got ${value}`, 'Round the number.')
  }

  inRange(where: string, value: unknown, min: number, max: number, unit: string): number {
    if (typeof value === 'number' && value >= min && value <= max) return value
    const range = `${min}..${max}${unit === '' ? '' : ` ${unit}`}`
    return this.refuse(
      where,
      `expected a number ${range}, got ${JSON.stringify(value)}`,
      'Change the number.',
    )
  }

  choice<T extends string>(key: string, values: readonly T[]): T {
    const value = this.#all[key]
    const known = values.find(one => one === value)
    if (known !== undefined) return known
    return this.refuse(key, `got ${JSON.stringify(value)}`, `Choose one of ${values.join(', ')}.`)
  }

  /** Groove depth nm, share 0..1 and shape. */
  relief(): { readonly depth: number; readonly share: number; readonly groove: Groove } {
    const [depth, share, duty] = reliefControls.map(control => this.number(control)) as [
      number,
      number,
      number,
    ]
    return { depth, share: share / 100, groove: this.#groove(duty / 100) }
  }

  /** Standard deviation of 1/pitch over its mean, and of the direction in radians. */
  scatter(): { readonly spread: number; readonly jitter: number } {
    const [spread, jitter] = scatterControls.map(control => this.number(control)) as [number, number]
    return { spread: spread / 100, jitter: (jitter * Math.PI) / 180 }
  }

  /**
   * A pitch that goes with the rest of the relief; refuses what the optics has no answer for.
   * @param where  the parameter that asks for it
   * @param depth  nm
   * @param spread as {@link scatter} gives it
   */
  pitch(where: string, value: unknown, depth: number, spread: number): number {
    const pitch = this.inRange(where, value, pitchRange[0], coarsestScattered, 'nm')
    if (pitch > pitchRange[1] && spread < colorlessSpread)
      this.refuse(
        where,
        `${pitch} nm is wider than ${pitchRange[1]} nm: such grooves are small mirrors, not a grating`,
        `Choose up to ${pitchRange[1]} nm, or let the pitch scatter by ${100 * colorlessSpread} % or more.`,
      )
    if (depth > pitch / 2)
      this.refuse(
        'grooveDepthNm',
        `${depth} nm is more than half of the pitch, ${pitch} nm: light would meet its walls`,
        'Make the grooves flatter or the pitch wider.',
      )
    return pitch
  }

  #groove(duty: number): Groove {
    const shape = this.choice('shape', grooveShapes)
    switch (shape) {
      case 'sinusoid':
      case 'blazed':
        return { shape }
      case 'rectangular':
        return { shape, duty }
      case 'sampled':
        return this.#measured()
    }
  }

  /** The profile of a measured groove: a name and its heights, as numbers or as text of them. */
  #measured(): Groove {
    const { name, heights } = (this.#all.profile ?? {}) as Record<string, unknown>
    const values = typeof heights === 'string' ? numbersIn(heights) : heights
    if (!Array.isArray(values) || values.length < leastHeights || values.length > mostHeights)
      return this.refuse(
        'profile',
        `expected ${leastHeights}..${mostHeights} heights over one period, got ${Array.isArray(values) ? values.length : 'none'}`,
        'Paste the heights of one period, in any unit, with equal steps from left to right.',
      )
    const bad = values.findIndex(value => typeof value !== 'number' || !Number.isFinite(value))
    if (bad >= 0)
      return this.refuse(
        `profile height ${bad + 1}`,
        `expected a number, got ${JSON.stringify(values[bad])}`,
        'Correct or remove it.',
      )
    const given = values as number[]
    if (Math.max(...given) === Math.min(...given))
      return this.refuse(
        'profile',
        'all heights are the same, so there is no groove',
        'Paste a profile with relief.',
      )
    return sampled(typeof name === 'string' && name !== '' ? name : 'measured', given)
  }

  refuse(where: string, problem: string, fix: string): never {
    throw new BadInput('effect-parameter', `effect "${this.kind}"`, where, problem, fix)
  }
}

const leastHeights = 4
const mostHeights = 4096

/** Numbers of pasted text: separated by blanks, line ends, semicolons or commas; what is none stays as it was. */
function numbersIn(text: string): readonly (number | string)[] {
  const parts = text.split(/[\s;,]+/).filter(part => part !== '')
  return parts.map(part => (Number.isFinite(Number(part)) ? Number(part) : part))
}
