import type { RoleName } from './role.ts'

/**
 * The processing steps of ISO 19593-1 (groups with types; names as in its tables 2 and 3) and the role each plays here.
 * An empty type is the group alone.
 */
const steps: readonly (readonly [group: string, types: readonly string[], role: RoleName])[] = [
  [
    'Structural',
    [
      ...[
        'Cutting',
        'PartialCutting',
        'ReversePartialCutting',
        'Creasing',
        'ReverseCreasing',
        'CuttingCreasing',
      ],
      ...['ReverseCuttingCreasing', 'PartialCuttingCreasing', 'ReversePartialCuttingCreasing', 'Drilling'],
      ...['Perforating', 'Bleed', 'Folding', 'Punching', 'Stapling', ''],
    ],
    'dieline',
  ],
  ['Structural', ['Gluing', 'VarnishFree', 'InkFree', 'InkVarnishFree'], 'glueZone'],
  ['Structural', ['FoilStamping', 'ColdFoilStamping'], 'foilStamp'],
  ['Structural', ['Embossing', 'Debossing'], 'emboss'],
  ['Dimensions', [''], 'legend'],
  ['Braille', [''], 'emboss'],
  ['Legend', [''], 'legend'],
  ['Positions', ['Hologram'], 'holography'],
  ['Positions', ['Barcode', 'CodingMarking', 'Imprinting'], 'codingArea'],
  ['Positions', ['ContentArea', ''], 'legend'],
  ['White', [''], 'white'],
  ['Varnish', [''], 'varnish'],
  ['Primer', [''], 'primer'],
  [
    'PlateMaking',
    ['StationInfo', 'PlateStamping', 'OverstepArea', 'Cutting', 'Bleed', 'NoMark', ''],
    'legend',
  ],
]

export interface Step {
  /** `Structural/Cutting`, `White`. */
  readonly name: string
  readonly role: RoleName
}

/** Types that are artwork's own words as well (a printed barcode): they count only together with their group. */
const everyday = new Set(['Barcode'])

/**
 * The processing step that a name spells: its group, its type, or group and type joined by anything but letters
 * (`Structural/Cutting`, `structural cutting`, `CuttingCreasing`); null when it spells none.
 */
export function stepOf(name: string): Step | null {
  const key = letters(name)
  return byKey.get(key) ?? null
}

function letters(text: string): string {
  return text.toLowerCase().replace(/[^a-z]/g, '')
}

const byKey = new Map<string, Step>()
for (const [group, types, role] of steps)
  for (const type of types) {
    const step: Step = { name: type ? `${group}/${type}` : group, role }
    byKey.set(letters(group + type), step)
    const alone = letters(type)
    if (alone && !everyday.has(type) && !byKey.has(alone)) byKey.set(alone, step)
  }
