import { processCount } from '../../art/layer.ts'
import { processInk } from '../../roles/assign.ts'
import type { RoleName } from '../../roles/role.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { found } from './found.ts'

/** Names that print engines keep for themselves. Source: PDF, ISO 32000: `All` is every plate, `None` is no plate. */
const engineNames = new Set(['all', 'none'])

/**
 * Groups and types of processing steps, ISO 19593-1 tables 2 and 3: an ink of that name is taken for the step.
 * White, varnish and primer are inks as well as steps and are left out.
 */
const stepNames = new Set(
  `Structural Dimensions Braille Legend Positions PlateMaking
  Cutting PartialCutting ReversePartialCutting Creasing ReverseCreasing CuttingCreasing ReverseCuttingCreasing
  PartialCuttingCreasing ReversePartialCuttingCreasing Drilling Gluing FoilStamping ColdFoilStamping Embossing
  Debossing Perforating Bleed VarnishFree InkFree InkVarnishFree Folding Punching Stapling
  Hologram Barcode ContentArea CodingMarking Imprinting`
    .split(/\s+/)
    .map(name => name.toLowerCase()),
)

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
    return [
      found({
        severity: 'error',
        code,
        of: channel.id,
        where: `channel "${channel.name}"`,
        message,
        fix,
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
