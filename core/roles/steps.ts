import {
  holoMapGroup,
  outlineGroup,
  type PlainGroup,
  type PlateMakingType,
  type PositionsType,
  type ProcessingStep,
  readStep,
  type StructuralType,
} from '../art/processing-steps.ts'
import type { RoleName } from './role.ts'

const structural: Readonly<Record<StructuralType, RoleName>> = {
  Cutting: 'dieline',
  PartialCutting: 'dieline',
  ReversePartialCutting: 'dieline',
  Creasing: 'dieline',
  ReverseCreasing: 'dieline',
  CuttingCreasing: 'dieline',
  ReverseCuttingCreasing: 'dieline',
  PartialCuttingCreasing: 'dieline',
  ReversePartialCuttingCreasing: 'dieline',
  Drilling: 'dieline',
  Gluing: 'glueZone',
  FoilStamping: 'foilStamp',
  ColdFoilStamping: 'foilStamp',
  Embossing: 'emboss',
  Debossing: 'emboss',
  Perforating: 'dieline',
  Bleed: 'dieline',
  VarnishFree: 'glueZone',
  InkFree: 'glueZone',
  InkVarnishFree: 'glueZone',
  Folding: 'dieline',
  Punching: 'dieline',
  Stapling: 'dieline',
}
const positions: Readonly<Record<PositionsType, RoleName>> = {
  Hologram: 'holography',
  Barcode: 'codingArea',
  ContentArea: 'legend',
  CodingMarking: 'codingArea',
  Imprinting: 'codingArea',
}
const plateMaking: Readonly<Record<PlateMakingType, RoleName>> = {
  StationInfo: 'legend',
  PlateStamping: 'legend',
  OverstepArea: 'legend',
  Cutting: 'legend',
  Bleed: 'legend',
  NoMark: 'legend',
}
const plain: Readonly<Record<PlainGroup, RoleName>> = {
  Dimensions: 'legend',
  Braille: 'emboss',
  Legend: 'legend',
  White: 'white',
  Varnish: 'varnish',
  Primer: 'primer',
}

export interface Step {
  /** `Structural/Cutting`, `White`. */
  readonly name: string
  readonly role: RoleName
}

/** The role of a step as a file states it; null for a name of its maker's own, which only its maker knows. */
export function roleOfStep(step: ProcessingStep): RoleName | null {
  if (step.group === holoMapGroup) return 'holography'
  // It says where something is that is there beside it.
  if (step.group === outlineGroup) return 'legend'
  const spelled = 'type' in step && step.type !== undefined ? `${step.group}/${step.type}` : step.group
  const known = byKey.get(letters(spelled))
  return known?.name === spelled ? known.role : null
}

/**
 * The processing step that a name spells: its group, its type, or group and type joined by anything but letters
 * (`Structural/Cutting`, `structural cutting`, `CuttingCreasing`); null when it spells none.
 */
export function stepOf(name: string): Step | null {
  return byKey.get(letters(name)) ?? null
}

/** The step that a name spells, as it may be written: null where it spells none, or a group that needs a type. */
export function stepSpelled(name: string): ProcessingStep | null {
  const [group, type] = stepOf(name)?.name.split('/') ?? []
  return group === undefined ? null : readStep(group, type ?? null)
}

/** Types that are artwork's own words as well (a printed barcode): they count only together with their group. */
const everyday = new Set(['Barcode'])

const letters = (text: string): string => text.toLowerCase().replace(/[^a-z]/g, '')

const byKey = new Map<string, Step>()
function add(group: string, type: string, role: RoleName): void {
  const step: Step = { name: type ? `${group}/${type}` : group, role }
  byKey.set(letters(group + type), step)
  const alone = letters(type)
  if (alone && !everyday.has(type) && !byKey.has(alone)) byKey.set(alone, step)
}
for (const [group, types, role] of [
  // The group alone is a word that layers have as well; as a step it needs a type.
  ['Structural', structural, 'dieline'],
  ['Positions', positions, 'legend'],
  ['PlateMaking', plateMaking, 'legend'],
] as const) {
  for (const [type, own] of Object.entries(types)) add(group, type, own)
  add(group, '', role)
}
for (const [group, role] of Object.entries(plain)) add(group, '', role)
