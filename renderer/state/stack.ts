import type { Art, Layer } from '../../core/art/layer.ts'
import { type Assigned, type RoleName, roleNames, type Target } from '../../core/roles/role.ts'

/** One coat of the carton: everything in the art that plays the same role. */
export interface Coat {
  readonly role: RoleName
  /** Uppermost first. */
  readonly members: readonly Member[]
}

/** A layer or channel in a coat. */
export interface Member {
  readonly target: Target
  readonly name: string
  readonly assigned: Assigned
  /** The groups it lies in, outermost first. */
  readonly groups: readonly { readonly target: Target; readonly name: string }[]
  readonly hidden: boolean
}

/** Roles that put nothing on the board. */
const unprinted: readonly RoleName[] = ['dieline', 'glueZone', 'codingArea', 'legend', 'ignore']

export const isPrinted = (role: RoleName): boolean => !unprinted.includes(role)

/**
 * The coats in physical order, the one nearest the eye first, and what is not printed.
 * @param made roles of what the job adds to the art; they have a coat also where no layer plays them
 */
export function coatsOf(
  art: Art,
  assigned: readonly Assigned[],
  made: readonly RoleName[] = [],
): { readonly printed: readonly Coat[]; readonly unprinted: readonly Coat[] } {
  const members = membersOf(art, assigned)
  const coats = roleNames
    .map(role => ({ role, members: members.filter(member => member.assigned.role === role) }))
    .filter(coat => coat.members.length > 0 || made.includes(coat.role))
  return {
    printed: coats.filter(coat => isPrinted(coat.role)).reverse(),
    unprinted: coats.filter(coat => !isPrinted(coat.role)),
  }
}

/** How many amounts wait for an answer. */
export const openQuestions = (art: Art, assigned: readonly Assigned[]): readonly Member[] =>
  membersOf(art, assigned).filter(member => member.assigned.askAmount && isPrinted(member.assigned.role))

/** The role of a group, for overriding all that lies in it. */
export const assignedTo = (assigned: readonly Assigned[], target: Target): Assigned | undefined =>
  assigned.find(one => one.target.kind === target.kind && one.target.id === target.id)

/** What is printed together with the member: the outermost group that plays its role throughout, else itself. */
export function plateOf(member: Member, assigned: readonly Assigned[]): Target {
  let plate = member.target
  for (const group of member.groups.slice().reverse()) {
    if (assignedTo(assigned, group.target)?.role !== member.assigned.role) break
    plate = group.target
  }
  return plate
}

function membersOf(art: Art, assigned: readonly Assigned[]): Member[] {
  const layers = new Map(art.layers.map(layer => [layer.id, layer]))
  const roles = new Map(assigned.map(one => [`${one.target.kind} ${one.target.id}`, one]))
  const found: Member[] = []
  for (const layer of art.layers.slice().reverse()) {
    const role = roles.get(`layer ${layer.id}`)
    if (role === undefined || layer.kind === 'group') continue
    const groups = groupsOf(layer, layers)
    found.push({
      target: role.target,
      name: layer.name,
      assigned: role,
      groups: groups.map(group => ({ target: { kind: 'layer', id: group.id }, name: group.name })),
      hidden: !layer.visible || groups.some(group => !group.visible),
    })
  }
  for (const channel of art.channels) {
    const role = roles.get(`channel ${channel.id}`)
    if (role === undefined) continue
    found.push({ target: role.target, name: channel.name, assigned: role, groups: [], hidden: false })
  }
  return found
}

/** Outermost first. */
function groupsOf(layer: Layer, layers: ReadonlyMap<string, Layer>): Layer[] {
  const groups: Layer[] = []
  // A damaged file may name a parent in a circle.
  for (let at = layer.parent; at !== null && groups.length < layers.size; ) {
    const group = layers.get(at)
    if (group === undefined) break
    groups.unshift(group)
    at = group.parent
  }
  return groups
}
