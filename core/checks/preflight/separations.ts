import { processCount } from '../../art/layer.ts'
import { processInk } from '../../roles/assign.ts'
import type { RoleName } from '../../roles/role.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { remedies } from '../remedy.ts'
import { found } from './found.ts'

/** Names that print engines keep for themselves. Source: PDF, ISO 32000: `All` is every plate, `None` is no plate. */
const engineNames = new Set(['all', 'none'])

/**
 * Groups and types of processing steps, ISO 19593-1 tables 2 and 3: an ink of that name is taken for the step.
 * White, varnish and primer are inks as well as steps and are left out.
 */
const steps: readonly (readonly [meant: Meant | null, names: string])[] = [
  [
    { role: 'dieline', says: 'Take it for a dieline' },
    `Structural Cutting PartialCutting ReversePartialCutting Creasing ReverseCreasing CuttingCreasing
    ReverseCuttingCreasing PartialCuttingCreasing ReversePartialCuttingCreasing Drilling Perforating Folding Punching`,
  ],
  [{ role: 'legend', says: 'Take it for a legend' }, 'Dimensions Legend Positions'],
  [{ role: 'glueZone', says: 'Take it for a glue zone' }, 'Gluing'],
  [{ role: 'foilStamp', says: 'Take it for stamped foil' }, 'FoilStamping ColdFoilStamping'],
  [{ role: 'emboss', says: 'Take it for embossing' }, 'Embossing Debossing Braille'],
  [{ role: 'codingArea', says: 'Take it for a coding area' }, 'CodingMarking Imprinting'],
  [null, 'PlateMaking Bleed VarnishFree InkFree InkVarnishFree Stapling Hologram Barcode ContentArea'],
]
/** Each with the role that is meant; null where there are several that may be. */
const stepNames = new Map(
  steps.flatMap(([meant, names]) => names.split(/\s+/).map(name => [name.toLowerCase(), meant] as const)),
)

interface Meant {
  readonly role: RoleName
  /** What the button says. */
  readonly says: string
}

/** Roles that are drawn for somebody and never printed. */
const technical: readonly RoleName[] = ['dieline', 'glueZone', 'codingArea', 'legend', 'emboss']
const printing: readonly RoleName[] = ['overprint', 'spotInk']

/** Separations with names that mean something else to a print engine or a reader of processing steps. */
export function separationFindings({ art, assigned }: CheckInput): readonly CheckFinding[] {
  const roleOf = new Map(assigned.map(({ target, role }) => [`${target.kind} ${target.id}`, role]))
  const seen = new Map<string, number>()
  return art.channels.flatMap((channel): readonly CheckFinding[] => {
    const role = roleOf.get(`channel ${channel.id}`)
    if (channel.kind !== 'spot' || role === undefined || role === 'ignore') return []
    const plain = channel.name
      .trim()
      .toLowerCase()
      .replace(/[\s_-]+/g, '')
    const times = (seen.get(plain) ?? 0) + 1
    seen.set(plain, times)
    const fault = faultOf(plain, role, times, processCount(art.colorMode) === 4)
    if (fault === null) return []
    const [code, message, fix] = fault
    const meant = code === 'separation-named-step' ? stepNames.get(plain) : null
    return [
      found({
        severity: 'error',
        code,
        of: channel.id,
        where: `channel "${channel.name}"`,
        message,
        fix,
        remedy:
          meant == null
            ? null
            : remedies.setRole({ kind: 'channel', id: channel.id }, meant.role, meant.says),
      }),
    ]
  })
}

function faultOf(
  plain: string,
  role: RoleName,
  times: number,
  hasProcess: boolean,
): readonly [code: string, message: string, fix: string] | null {
  const rename = 'Give it a name of its own.'
  if (plain === '') return ['separation-unnamed', 'a separation without a name', rename]
  if (engineNames.has(plain))
    return ['separation-reserved', 'print engines keep this name: it means every plate, or no plate', rename]
  if (times > 1)
    return ['separation-twice', 'two separations have this name and would fall on one plate', rename]
  if (printing.includes(role) && stepNames.has(plain))
    return [
      'separation-named-step',
      'an ink that is named like a processing step: readers of ISO 19593-1 take it for the step and do not print it',
      'Name the ink after its colour, or set its role to what it is.',
    ]
  if ((technical.includes(role) || hasProcess) && processInk(plain) !== null)
    return [
      'separation-named-process',
      technical.includes(role)
        ? 'a technical drawing that is named after a process ink would be printed in it'
        : 'a spot ink that is named after a process ink falls on the same plate',
      rename,
    ]
  return null
}
