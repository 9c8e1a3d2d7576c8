import type { ArtFile } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import {
  type MadeSource,
  madePlate,
  type Plate,
  platesOf,
  type RoleTable,
  type Source,
  strayInks,
  type WhitePlate,
  whitePlate,
} from '../material/plates.ts'
import { spotColor, spotInk } from '../material/spot-color.ts'
import { statedOrder } from '../material/stated.ts'
import { solidLab } from '../optics/ink.ts'
import { opacityOf, scatterOf } from '../optics/white.ts'
import { processInk } from '../roles/assign.ts'
import type { Assigned } from '../roles/role.ts'
import type { Alternate, InkPlate, SeparateOptions } from './ink-plate.ts'
import { inStatedOrder } from './lay-order.ts'
import { plateNames, processNames } from './plate-names.ts'

/** A plate before a pixel of it is read. */
export type PlannedPlate = Omit<InkPlate, 'plane' | 'coverage' | 'printed'> & {
  /** Place of the process ink among C, M, Y, K; -1 for all others. */
  readonly ink: number
  /** Its place in the file's own printing order; null where the file states none. */
  readonly laid: ReturnType<typeof statedOrder>
  /** Amounts that are printed beside the composited overprint, painted over one another. */
  readonly sources: Plate<Source | MadeSource>['sources']
}

/** What is known of a plate that has its name from the art. */
type Named = Omit<PlannedPlate, 'name'> & { readonly wanted: string }

const usual = { opacity: null, hits: 1, step: null, ink: -1, laid: null } as const

/** The plates of a job, laid down first to last. None is joined with another, however many there are. */
export function planPlates(
  file: ArtFile,
  options: SeparateOptions,
  findings: Finding[],
): readonly PlannedPlate[] {
  const roles = roleTable(options.assigned)
  const plates = (role: Assigned['role']) => platesOf(file.art, role, roles, findings)
  const drawn: readonly Plate<Source | MadeSource>[] = plates('white')
  const made = options.made ? [madePlate(options.made)] : []
  const { art } = file
  const placed = (plate: Named, { target }: Pick<Plate, 'target'>): Named => ({
    ...plate,
    laid: statedOrder(art, target),
  })
  const whites = [...drawn, ...made].map(plate =>
    placed(whiteOf(whitePlate(art, plate, options), findings), plate),
  )
  const primers = plates('primer').map(plate => placed(primerOf(plate), plate))
  const below = named([...primers, ...whites], findings, [])
  const inkOf = spotInk(spotColor(file, options.press), options.spots ?? [])
  const spots = [...plates('spotInk'), ...strayInks(file.art, roles, findings)].map(plate => {
    const lab = solidLab(inkOf(plate))
    if (lab === null) findings.push(colourUnknown(plate.name))
    return placed(spotOf(plate, lab), plate)
  })
  const above = named(
    [...spots, ...plates('varnish').map(plate => placed(varnishOf(plate), plate))],
    findings,
    below,
  )
  return inStatedOrder([...below, ...processPlates(file, roles), ...above])
}

export const roleTable = (assigned: readonly Assigned[]): RoleTable =>
  new Map(assigned.map(one => [`${one.target.kind} ${one.target.id}`, one]))

/** @param taken plates whose names are gone */
function named(
  plates: readonly Named[],
  findings: Finding[],
  taken: readonly PlannedPlate[],
): readonly PlannedPlate[] {
  const names = plateNames(
    plates.map(({ wanted }) => wanted),
    findings,
    taken.map(({ name }) => name),
  )
  return plates.map(({ wanted: _, ...plate }, i) => ({ ...plate, name: names[i]! }))
}

const cmyk = (...values: readonly [number, number, number, number]): Alternate => ({ space: 'CMYK', values })

const primerOf = ({ name, sources }: Plate): Named => ({
  ...usual,
  wanted: name,
  kind: 'primer',
  group: 'white',
  alternate: cmyk(0, 0, 0, 0),
  step: { group: 'Primer' },
  sources,
})

function whiteOf({ name, sources, opacity, hits, assumed, stated }: WhitePlate, findings: Finding[]): Named {
  const laid = opacityOf(scatterOf(opacity) * hits)
  if (assumed) findings.push(opacityAssumed(name, laid, stated === true))
  return {
    ...usual,
    wanted: name,
    kind: 'white',
    group: 'white',
    // A device without white ink is to print nothing in its place.
    alternate: cmyk(0, 0, 0, 0),
    opacity: laid,
    hits,
    step: { group: 'White' },
    sources,
  }
}

const spotOf = ({ name, sources }: Plate, lab: readonly [number, number, number] | null): Named => ({
  ...usual,
  wanted: name,
  kind: 'spot',
  group: 'inks',
  alternate: lab === null ? cmyk(0, 0, 0, 0.5) : { space: 'Lab', values: lab },
  sources,
})

const varnishOf = ({ name, sources }: Plate): Named => ({
  ...usual,
  wanted: name,
  kind: 'varnish',
  group: 'varnish',
  // Clear on paper; a breath of yellow lets it be seen on a screen.
  alternate: cmyk(0, 0, 0.08, 0),
  step: { group: 'Varnish' },
  sources,
})

/** The four process inks; channels that are named after one print beside the layers. */
function processPlates({ art }: ArtFile, roles: RoleTable): readonly PlannedPlate[] {
  const channels = art.channels.filter(({ id }) => roles.get(`channel ${id}`)?.role === 'overprint')
  const solids = [cmyk(1, 0, 0, 0), cmyk(0, 1, 0, 0), cmyk(0, 0, 1, 0), cmyk(0, 0, 0, 1)]
  return processNames.map((name, ink) => ({
    ...usual,
    name,
    kind: 'process',
    group: 'inks',
    alternate: solids[ink]!,
    ink,
    sources: channels
      .filter(channel => processInk(channel.name) === 'CMYK'[ink])
      .map((channel): Source => ({ kind: 'channel', channel })),
  }))
}

const colourUnknown = (name: string): Finding => ({
  severity: 'warning',
  code: 'ink-colour-unknown',
  where: `spot ink "${name}"`,
  message: 'neither the job nor the file says its colour; where a device lacks the ink, grey stands for it',
  fix: 'Give its colour in the job.',
})

const opacityAssumed = (name: string, laid: number, stated: boolean): Finding => ({
  severity: 'note',
  code: 'white-opacity-assumed',
  where: `white "${name}"`,
  message: `nobody measured its opacity; ${Math.round(100 * laid)} % ${stated ? 'is what the art states of its ink' : 'is assumed'}, and the file says so to its readers`,
  fix: 'Enter what was measured.',
})
