import { BadInput } from '../../base/finding.ts'
import type { InkColor } from '../layer.ts'
import type { ColorSpace, Reading } from './reading.ts'

/** What kinds of colour space differ in; {@link makeSpace} adds the rest. */
export interface SpaceParts {
  readonly family?: ColorSpace['family']
  readonly components: number
  readonly initial: readonly number[]
  /** Limits of each component in pairs; usual: 0 and 1. */
  readonly decode?: ColorSpace['decode']
  readonly inks: readonly number[]
  readonly manyTints: ColorSpace['manyTints']
  readonly direct?: ColorSpace['direct']
  readonly inkColor: (values: readonly number[]) => InkColor
  readonly under?: ColorSpace | null
}

export function makeSpace(parts: SpaceParts): ColorSpace {
  const { components, initial, inks, manyTints, inkColor } = parts
  const usual = Array.from({ length: 2 * components }, (_, i) => i % 2)
  return {
    family: parts.family ?? 'other',
    components,
    initial,
    decode: parts.decode ?? (() => usual),
    inks,
    tints: values => {
      const one = new Float32Array(components)
      for (let i = 0; i < components; i++) one[i] = values[i] ?? 0
      return Array.from(manyTints(one))
    },
    manyTints,
    direct: parts.direct ?? null,
    inkColor,
    under: parts.under ?? null,
  }
}

/** What is no number becomes 0. */
export const clip01 = (value: number): number => (value > 0 ? Math.min(1, value) : 0)

/** A copy whose values lie within 0..1. */
export const clipped = (values: Float32Array): Float32Array => values.map(clip01)

/** Tells of a thing once a reading, however often the page uses it. */
export function tellOnce(
  reading: Reading,
  finding: Reading['findings'][number],
  list: Reading['findings'] = reading.findings,
): void {
  if (!list.some(({ code, where }) => code === finding.code && where === finding.where)) list.push(finding)
}

export function badSpace(reading: Reading, where: string, problem: string): BadInput {
  return new BadInput(
    'pdf-colour-space',
    reading.file,
    where,
    problem,
    'Save the file again, or give this object a colour of another kind',
  )
}
