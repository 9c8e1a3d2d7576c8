import type { Finding } from '../base/finding.ts'

// Names of ISO 19593-1, tables 2 and 3, as the PDF association's open object model has them (GTS_ProcStepsGroup). All
// that reads or writes a step takes them from here; which role a step plays is in core/roles/steps.ts.

/** Types of the group Structural: what is done to the board. */
export const structuralTypes = [
  'Cutting',
  'PartialCutting',
  'ReversePartialCutting',
  'Creasing',
  'ReverseCreasing',
  'CuttingCreasing',
  'ReverseCuttingCreasing',
  'PartialCuttingCreasing',
  'ReversePartialCuttingCreasing',
  'Drilling',
  'Gluing',
  'FoilStamping',
  'ColdFoilStamping',
  'Embossing',
  'Debossing',
  'Perforating',
  'Bleed',
  'VarnishFree',
  'InkFree',
  'InkVarnishFree',
  'Folding',
  'Punching',
  'Stapling',
] as const

/** Types of the group Positions: where something is that another draws. */
export const positionsTypes = ['Hologram', 'Barcode', 'ContentArea', 'CodingMarking', 'Imprinting'] as const

/** Types of the group PlateMaking. */
export const plateMakingTypes = [
  'StationInfo',
  'PlateStamping',
  'OverstepArea',
  'Cutting',
  'Bleed',
  'NoMark',
] as const

/** Groups that are all said by their name: a type beside it is an error. */
export const plainGroups = ['Dimensions', 'Braille', 'Legend', 'White', 'Varnish', 'Primer'] as const

/** Begins every name that is ours alone. */
const ownPrefix = 'RKLT_'

/** Our own groups: where the foil carries holography, and outlines of what no other step speaks of. */
export const holoMapGroup = 'RKLT_HoloMap'
export const outlineGroup = 'RKLT_Outline'

export type StructuralType = (typeof structuralTypes)[number]
export type PositionsType = (typeof positionsTypes)[number]
export type PlateMakingType = (typeof plateMakingTypes)[number]
export type PlainGroup = (typeof plainGroups)[number]
/** A name of one's own: a registered prefix, an underscore, a word. */
export type CustomName = `${string}_${string}`

/** A processing step that may be written: no type is missing, and none is too much. */
export type ProcessingStep =
  | { readonly group: 'Structural'; readonly type: StructuralType | CustomName }
  | { readonly group: 'Positions'; readonly type: PositionsType | CustomName }
  | { readonly group: 'PlateMaking'; readonly type: PlateMakingType | CustomName }
  | { readonly group: PlainGroup }
  | { readonly group: CustomName; readonly type?: CustomName }

const typed: Readonly<Record<string, readonly string[]>> = {
  Structural: structuralTypes,
  Positions: positionsTypes,
  PlateMaking: plateMakingTypes,
}
const plain: readonly string[] = plainGroups

/**
 * What is wrong with the names of a step, as a file has them: the values of GTS_ProcStepsGroup and GTS_ProcStepsType,
 * null where the key is missing. A step without an error may be taken as {@link ProcessingStep}.
 * @param where names the layer, for the findings
 */
export function stepFindings(group: string | null, type: string | null, where: string): readonly Finding[] {
  if (group === null)
    return [error(where, 'step-group-missing', 'its processing step names no group', 'Name its group.')]
  const types = typed[group]
  if (types !== undefined) return typedFindings(group, types, type, where)
  if (plain.includes(group))
    return type === null
      ? []
      : [
          error(
            where,
            'step-type-extra',
            `the group ${group} has no types, and here is the type "${type}"`,
            `Leave the type out: ${group} says it all.`,
          ),
        ]
  const own = customFindings(group, 'group', where)
  // Types of a group that nobody knows are not looked at.
  const isError = own.some(({ severity }) => severity === 'error')
  return type === null || isError ? own : [...own, ...customFindings(type, 'type', where)]
}

/** The step of names that are in order; null where `stepFindings` has an error. */
export function readStep(group: string | null, type: string | null): ProcessingStep | null {
  if (stepFindings(group, type, '').some(({ severity }) => severity === 'error')) return null
  return (type === null ? { group } : { group, type }) as ProcessingStep
}

/** The step as it is written. Throws RangeError for one that ISO 19593-1 does not allow, though its type let it pass. */
export function writtenStep(step: ProcessingStep): { readonly group: string; readonly type: string | null } {
  const { group } = step
  const type = 'type' in step && step.type !== undefined ? step.type : null
  const [wrong] = stepFindings(group, type, group).filter(({ severity }) => severity === 'error')
  if (wrong) throw new RangeError(`processing step ${group}: ${wrong.message}`)
  return { group, type }
}

/** `Structural Cutting`, `White`. */
export function stepWords(step: ProcessingStep): string {
  const { group, type } = writtenStep(step)
  return type === null ? group : `${group} ${type}`
}

function typedFindings(
  group: string,
  types: readonly string[],
  type: string | null,
  where: string,
): readonly Finding[] {
  if (type === null)
    return [
      error(
        where,
        'step-type-missing',
        `the group ${group} says nothing without a type`,
        `Give it one of ${types.join(', ')}.`,
      ),
    ]
  return types.includes(type) ? [] : customFindings(type, `type of ${group}`, where)
}

/** A prefix of one's own, and a word behind it. */
const custom = /^[A-Za-z0-9]{2,}_[^_\s]\S*$/

function customFindings(name: string, what: string, where: string): readonly Finding[] {
  return custom.test(name)
    ? [
        name.startsWith(ownPrefix)
          ? {
              severity: 'note',
              code: 'step-custom',
              where,
              message: `the ${what} "${name}" is a name of rakelight's own, which no other program knows`,
              fix: 'Nothing: it is read as what it is.',
            }
          : {
              severity: 'note',
              code: 'step-custom',
              where,
              message: `the ${what} "${name}" is a name of its maker's own`,
              fix: 'Ask its maker what it stands for.',
            },
      ]
    : [
        error(
          where,
          'step-unknown',
          `the ${what} "${name}" is no name of ISO 19593-1, and has no prefix of its maker`,
          'Correct the name, or put a registered prefix and an underscore before it.',
        ),
      ]
}

const error = (where: string, code: string, message: string, fix: string): Finding => ({
  severity: 'error',
  code,
  where,
  message,
  fix,
})
