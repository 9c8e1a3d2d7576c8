import { BadInput } from '../base/finding.ts'
import { type GrooveShape, grooveShapes } from '../optics/matter.ts'
import type { EffectChoice, EffectControl } from './effect.ts'

export type Parameters = Readonly<Record<string, unknown>>

/** Pitches a job may ask for, nm. Below 400 colour comes from order 0, above 5000 from mirrors: outside the model. */
export const pitchRange: readonly [number, number] = [400, 5000]
/** Below this pitch, nm, the model has not been checked against a rigorous one. */
export const validatedPitch = 667
/** Pixels of relief hold whole nanometres up to this. */
export const deepest = 255

export const pitchControl: EffectControl = {
  key: 'pitchNm',
  label: 'Pitch',
  unit: 'nm',
  min: pitchRange[0],
  max: pitchRange[1],
  step: 10,
}
export const azimuthControl: EffectControl = {
  key: 'azimuthDeg',
  label: 'Direction across the grooves',
  unit: 'deg',
  min: -360,
  max: 360,
  step: 1,
}
/** Controls that every kind has: the relief itself. */
export const reliefControls: readonly EffectControl[] = [
  { key: 'grooveDepthNm', label: 'Groove depth', unit: 'nm', min: 0, max: deepest, step: 1 },
  { key: 'sharePercent', label: 'Share of the area', unit: 'percent', min: 0, max: 100, step: 1 },
]
export const centerControls: readonly EffectControl[] = [
  { key: 'offsetXMm', label: 'Centre, right of the middle', unit: 'mm', min: -2000, max: 2000, step: 0.5 },
  { key: 'offsetYMm', label: 'Centre, above the middle', unit: 'mm', min: -2000, max: 2000, step: 0.5 },
]
export const shapeChoice: EffectChoice = {
  key: 'shape',
  label: 'Groove shape',
  options: [
    { value: 'sinusoid', label: 'Sinusoid' },
    { value: 'rectangular', label: 'Rectangular' },
    { value: 'blazed', label: 'Blazed, bright from one side' },
  ],
}

/** A 60 nm sinusoid everywhere: an assumed relief, which keeps the board silver to champagne. */
export const reliefDefaults = { grooveDepthNm: 60, sharePercent: 100, shape: 'sinusoid' } as const

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
  relief(): { readonly depth: number; readonly share: number; readonly shape: GrooveShape } {
    const [depth, share] = reliefControls.map(control => this.number(control)) as [number, number]
    return { depth, share: share / 100, shape: this.choice('shape', grooveShapes) }
  }

  refuse(where: string, problem: string, fix: string): never {
    throw new BadInput('effect-parameter', `effect "${this.kind}"`, where, problem, fix)
  }
}
