import type { Art, ArtFile, Channel, Layer } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Task } from '../base/task.ts'
import { processInk } from '../roles/assign.ts'
import { knockingLayers } from '../roles/knocking.ts'
import type { Assigned, RoleName, Target } from '../roles/role.ts'
import { areasOf, type HolographyArea } from './area-plan.ts'
import {
  few,
  type MadeSource,
  madePlate,
  type Plate,
  platesOf,
  type Source,
  strayInks,
  together,
  type WhitePlate,
  whitePlate,
} from './plates.ts'
import type { MapSettings } from './settings.ts'
import { statedFindings } from './stated-findings.ts'

/** What is to be built from what, before a pixel is read. */
export interface MapPlan {
  readonly overprint: readonly Layer[]
  /** Ids of layers that knock out of it. */
  readonly knocking: readonly string[]
  /** Channels named after process inks, in files that have no process colours of their own. */
  readonly process: readonly { readonly ink: 'C' | 'M' | 'Y' | 'K'; readonly channel: Channel }[]
  readonly whites: readonly WhitePlate[]
  readonly spots: readonly Plate[]
  readonly varnish: Plate | null
  /** Null: metal everywhere. */
  readonly metal: Plate | null
  readonly areas: readonly HolographyArea[]
  readonly findings: readonly Finding[]
}

export async function planMap(
  file: ArtFile,
  assigned: readonly Assigned[],
  settings: MapSettings,
  task?: Task,
): Promise<MapPlan> {
  const { art } = file
  const roles = new Map(assigned.map(one => [`${one.target.kind} ${one.target.id}`, one]))
  const findings: Finding[] = []
  const plates = (role: RoleName) => platesOf(art, role, roles, findings)
  const named = art.channels.flatMap(channel => {
    const ink = roles.get(`channel ${channel.id}`)?.role === 'overprint' ? processInk(channel.name) : null
    return ink ? [{ ink, channel }] : []
  })
  const drawn: readonly Plate<Source | MadeSource>[] = plates('white')
  const made = settings.made ? [madePlate(settings.made)] : []
  const whites = few([...drawn, ...made], 'white', findings).map(plate => whitePlate(art, plate, settings))
  const areas = await areasOf(file, plates('holography'), settings, findings, task)
  const spots = few([...plates('spotInk'), ...strayInks(art, roles, findings)], 'spot ink', findings)
  findings.push(
    ...unprinted(art, assigned),
    ...unanswered(art, assigned),
    ...statedFindings(art, whites, spots),
  )
  return {
    overprint: art.layers.filter(
      layer => layer.kind !== 'group' && roles.get(`layer ${layer.id}`)?.role === 'overprint',
    ),
    knocking: knockingLayers(art, assigned),
    process: named,
    whites,
    spots,
    varnish: together(plates('varnish'), 'varnish'),
    metal: together(plates('substrate'), 'metal'),
    areas,
    findings,
  }
}

const noOptics: readonly RoleName[] = ['emboss', 'primer', 'foilStamp']

function unprinted(art: Art, assigned: readonly Assigned[]): Finding[] {
  return assigned
    .filter(one => noOptics.includes(one.role) && !isGroup(art, one.target))
    .map(one => ({
      severity: 'note',
      code: 'role-without-optics',
      where: placeOf(art, one.target),
      message: `it is ${one.role}, which the picture does not show yet`,
      fix: 'Nothing: it is kept with its role.',
    }))
}

function unanswered(art: Art, assigned: readonly Assigned[]): Finding[] {
  return assigned
    .filter(one => one.askAmount)
    .map(one => ({
      severity: 'warning',
      code: 'amount-unclear',
      where: placeOf(art, one.target),
      message: `how its amount is meant is not sure: ${one.amountReason}`,
      fix: 'Look at its preview and choose how it is read.',
    }))
}

function isGroup(art: Art, target: Target): boolean {
  return target.kind === 'layer' && art.layers.find(layer => layer.id === target.id)?.kind === 'group'
}

function placeOf(art: Art, target: Target): string {
  const list: readonly { readonly id: string; readonly name: string }[] =
    target.kind === 'layer' ? art.layers : art.channels
  return `${target.kind} "${list.find(one => one.id === target.id)?.name ?? target.id}"`
}
