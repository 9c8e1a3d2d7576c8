import type { Art, Channel, Layer } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Outline } from '../effects/outline.ts'
import type { WhiteScreen } from '../optics/matter.ts'
import { contrastOf } from '../optics/opacity.ts'
import { processInk } from '../roles/assign.ts'
import { ancestorsOf, leavesOf } from '../roles/members.ts'
import type { Amount, Assigned, RoleName, Target } from '../roles/role.ts'
import type { MadeWhite } from './made-white.ts'
import type { MapSettings } from './settings.ts'
import { statedWhite } from './stated.ts'

/** Where one amount comes from: a channel, or layers painted over one another, each read in its own way. */
export type Source =
  | { readonly kind: 'channel'; readonly channel: Channel }
  | { readonly kind: 'layers'; readonly layers: readonly Layer[]; readonly amount: Amount }

/** A shape of the job as a source. */
export interface OutlineSource {
  readonly kind: 'outline'
  readonly outline: Outline
  /** Finished size, over which the art is stretched, mm. */
  readonly widthMm: number
  readonly heightMm: number
}

/** The target by which a job describes a white that was made of the art. */
export const madeWhiteTarget: Target = { kind: 'layer', id: 'made white' }

export interface MadeSource {
  readonly kind: 'made'
  readonly made: MadeWhite
}

/** Where the amount of an area comes from. */
export type AreaSource = Source | OutlineSource

/** One printing plate: everything of its sources together. */
export interface Plate<S = Source> {
  readonly name: string
  readonly target: Target
  readonly sources: readonly S[]
}

export interface WhitePlate extends Plate<Source | MadeSource> {
  readonly opacity: number
  readonly hits: number
  readonly mottle: number
  readonly screen: WhiteScreen
  /** Tone value that the plate gains at 50 %. */
  readonly toneGain: number
  /** Nobody measured it. */
  readonly assumed: boolean
  /** Its opacity is the solidity that the file states. */
  readonly stated?: true
}

/** White of a plate that nobody described: 50 % opacity, one hit; common practice, no source. */
export const assumedWhite = { opacity: 0.5, hits: 1, mottle: 0, screen: 'dots', toneGain: 0 } as const
/** The numbers of a white that nobody described: what the file states of its ink, else what whites usually have. */
export function usualWhite(art: Art, target: Target) {
  const opacity = statedWhite(art, target)
  return opacity === null ? assumedWhite : { ...assumedWhite, opacity, stated: true as const }
}

/** Whites and spot inks that a picture can show each; more are painted together into the last. */
export const mostPlates = 4

/** Roles by `layer id` and `channel id`. */
export type RoleTable = ReadonlyMap<string, Assigned>

/** The plates of a role, bottom first: one for each outermost group or lone layer that has it, one for each channel. */
export function platesOf(art: Art, role: RoleName, roles: RoleTable, findings: Finding[]): Plate[] {
  const out: Plate[] = []
  const has = (layer: Layer) => roles.get(`layer ${layer.id}`)?.role === role
  const roots = new Set(art.layers.filter(has).map(layer => outermost(art, layer, has)))
  for (const root of roots) {
    // Inside a plate the file's eyes count; the plate itself is often switched off only to see the artwork.
    const shown = leavesOf(art, root.id).filter(leaf => has(leaf) && eyesOpen(art, leaf, root))
    if (shown.length === 0) continue
    const off = ancestorsOf(art, root).find(group => !group.visible)
    if (off) findings.push(switchedOff(root, role, off))
    else if (!root.visible && !root.savedPath) findings.push(usedAllTheSame(root, role))
    if (off) continue
    const sources = shown.map((layer): Source => {
      const { amount } = roles.get(`layer ${layer.id}`)!
      return { kind: 'layers', layers: [layer], amount }
    })
    out.push({ name: root.name, target: { kind: 'layer', id: root.id }, sources })
  }
  for (const channel of art.channels)
    if (roles.get(`channel ${channel.id}`)?.role === role) out.push(channelPlate(channel))
  return out
}

function channelPlate(channel: Channel): Plate {
  return {
    name: channel.name,
    target: { kind: 'channel', id: channel.id },
    sources: [{ kind: 'channel', channel }],
  }
}

function outermost(art: Art, layer: Layer, has: (layer: Layer) => boolean): Layer {
  let root = layer
  for (const group of ancestorsOf(art, layer)) {
    if (!has(group)) break
    root = group
  }
  return root
}

/** Whether a leaf and every group between it and the root is switched on; the root's own eye does not count. */
function eyesOpen(art: Art, leaf: Layer, root: Layer): boolean {
  if (leaf === root) return true
  if (!leaf.visible) return false
  for (const group of ancestorsOf(art, leaf)) {
    if (group.id === root.id) return true
    if (!group.visible) return false
  }
  return true
}

/** The plate of a white that was made of the art. */
export const madePlate = (made: MadeWhite): Plate<Source | MadeSource> => ({
  name: made.name,
  target: madeWhiteTarget,
  sources: [{ kind: 'made', made }],
})

/** A white as the job describes it, else with the solidity that the file states, else as whites usually are. */
export function whitePlate(art: Art, plate: Plate<Source | MadeSource>, settings: MapSettings): WhitePlate {
  const ids = new Set([
    `${plate.target.kind} ${plate.target.id}`,
    ...plate.sources.flatMap(source =>
      source.kind === 'layers' ? source.layers.map(layer => `layer ${layer.id}`) : [],
    ),
  ])
  const told = settings.whites.find(white => ids.has(`${white.target.kind} ${white.target.id}`))
  return told
    ? {
        ...plate,
        ...assumedWhite,
        ...told,
        target: plate.target,
        opacity: contrastOf(told.opacity),
        assumed: false,
      }
    : { ...plate, ...usualWhite(art, plate.target), assumed: true }
}

/** Channels that print over the art without being named after a process ink. */
export function strayInks(art: Art, roles: RoleTable, findings: Finding[]): Plate[] {
  return art.channels
    .filter(({ id, name }) => roles.get(`channel ${id}`)?.role === 'overprint' && processInk(name) === null)
    .map(channel => {
      findings.push({
        severity: 'note',
        code: 'channel-as-ink',
        where: `channel "${channel.name}"`,
        message: 'printed as an ink of its own, since its name is no process ink',
        fix: 'Set its role to spot ink, or name it after cyan, magenta, yellow or black.',
      })
      return channelPlate(channel)
    })
}

/** At most `mostPlates`; the rest are painted together into the last, and a finding says so. */
export function few<S>(plates: readonly Plate<S>[], what: string, findings: Finding[]): readonly Plate<S>[] {
  if (plates.length <= mostPlates) return plates
  const rest = plates.slice(mostPlates - 1)
  findings.push({
    severity: 'warning',
    code: 'many-plates',
    where: rest.map(plate => `"${plate.name}"`).join(', '),
    message: `${plates.length} plates are ${what}; from the ${mostPlates}th on they are painted together`,
    fix: 'Put layers of one plate into one group, so that they are one plate.',
  })
  return [...plates.slice(0, mostPlates - 1), { ...rest[0]!, sources: rest.flatMap(plate => plate.sources) }]
}

/** All plates of a role as one, or null when there are none. */
export function together(plates: readonly Plate[], name: string): Plate | null {
  const [first] = plates
  return first ? { ...first, name, sources: plates.flatMap(plate => plate.sources) } : null
}

function usedAllTheSame(layer: Layer, role: RoleName): Finding {
  return {
    severity: 'warning',
    code: 'hidden-plate-used',
    where: `layer "${layer.name}"`,
    message: `it is ${role} and switched off in the file; it is used all the same`,
    fix: 'Set its role to ignore if it should not count.',
  }
}

function switchedOff(layer: Layer, role: RoleName, group: Layer): Finding {
  return {
    severity: 'warning',
    code: 'hidden-plate-left-out',
    where: `layer "${layer.name}"`,
    message: `it is ${role}, but the group "${group.name}" around it is switched off; it is left out`,
    fix: 'Switch the group on in the file if it should count.',
  }
}
