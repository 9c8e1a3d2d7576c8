import type { Art, ArtFile, Channel, Layer } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Task } from '../base/task.ts'
import type { EffectField, EffectFrame, EffectSpec } from '../effects/effect.ts'
import { effectKind, prepareEffect } from '../effects/kinds.ts'
import { suggestEffect } from '../effects/suggest.ts'
import { processInk } from '../roles/assign.ts'
import { ancestorsOf, baseOf, leavesOf } from '../roles/members.ts'
import type { Amount, Assigned, RoleName, Target } from '../roles/role.ts'
import { frameOf } from './frame.ts'

/** What of a job the map depends on. */
export interface MapSettings {
  /** Finished size, over which the art is stretched. */
  readonly panel: { readonly widthMm: number; readonly heightMm: number; readonly resolutionPpi: number }
  readonly effects: readonly { readonly target: Target; readonly effect: EffectSpec }[]
  readonly whites: readonly { readonly target: Target; readonly opacity: number; readonly hits: number }[]
}

/** Where one amount comes from: a channel, or layers painted over one another, each read in its own way. */
export type Source =
  | { readonly kind: 'channel'; readonly channel: Channel }
  | { readonly kind: 'layers'; readonly layers: readonly Layer[]; readonly amount: Amount }

/** One printing plate: everything of its sources together. */
export interface Plate {
  readonly name: string
  readonly target: Target
  readonly sources: readonly Source[]
}

export interface WhitePlate extends Plate {
  readonly opacity: number
  readonly hits: number
  readonly assumed: boolean
}

export interface HolographyArea {
  readonly id: number
  readonly name: string
  readonly target: Target
  readonly source: Source
  /** What limits the effect, when it is not the source's own amount. */
  readonly mask: Source | null
  readonly effect: string
  readonly field: EffectField
}

/** What is to be built from what, before a pixel is read. */
export interface MapPlan {
  readonly overprint: readonly Layer[]
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

/** White of a plate that nobody described: 50 % opacity, one hit; common practice, no source. */
export const assumedWhite = { opacity: 0.5, hits: 1 } as const
/** Whites and spot inks that a picture can show each; more are painted together into the last. */
export const mostPlates = 4

export async function planMap(
  file: ArtFile,
  assigned: readonly Assigned[],
  settings: MapSettings,
  task?: Task,
): Promise<MapPlan> {
  const { art } = file
  const roles = new Map(assigned.map(one => [`${one.target.kind} ${one.target.id}`, one]))
  const layerRole = (layer: Layer) => roles.get(`layer ${layer.id}`)
  const findings: Finding[] = []
  const plates = (role: RoleName) => platesOf(art, role, assigned, layerRole, findings)
  const named = art.channels.flatMap(channel => {
    const ink = roles.get(`channel ${channel.id}`)?.role === 'overprint' ? processInk(channel.name) : null
    return ink ? [{ ink, channel }] : []
  })
  const whites = few(plates('white'), 'white', findings).map(plate => whitePlate(plate, settings))
  const areas = await areasOf(file, plates('holography'), settings, findings, task)
  findings.push(...unprinted(art, assigned), ...unanswered(art, assigned))
  return {
    overprint: art.layers.filter(layer => layer.kind !== 'group' && layerRole(layer)?.role === 'overprint'),
    process: named,
    whites,
    spots: few([...plates('spotInk'), ...strayInks(art, roles, findings)], 'spot ink', findings),
    varnish: together(plates('varnish'), 'varnish'),
    metal: together(plates('substrate'), 'metal'),
    areas,
    findings,
  }
}

/** The plates of a role, bottom first: one for each outermost group or lone layer that has it, one for each channel. */
function platesOf(
  art: Art,
  role: RoleName,
  assigned: readonly Assigned[],
  roleOf: (layer: Layer) => Assigned | undefined,
  findings: Finding[],
): Plate[] {
  const out: Plate[] = []
  const has = (layer: Layer) => roleOf(layer)?.role === role
  const roots = new Set(art.layers.filter(has).map(layer => outermost(art, layer, has)))
  for (const root of roots) {
    const leaves = leavesOf(art, root.id).filter(has)
    // Inside a plate the file's eyes count; the plate itself is often switched off only to see the artwork.
    const shown = leaves.filter(leaf => leaf === root || eyesOpen(art, leaf, root))
    if (shown.length === 0) continue
    if (!root.visible) findings.push(hiddenPlate(root, role))
    const sources = shown.map(
      (layer): Source => ({ kind: 'layers', layers: [layer], amount: roleOf(layer)!.amount }),
    )
    out.push({ name: root.name, target: { kind: 'layer', id: root.id }, sources })
  }
  for (const channel of art.channels)
    if (
      assigned.some(one => one.target.kind === 'channel' && one.target.id === channel.id && one.role === role)
    )
      out.push({
        name: channel.name,
        target: { kind: 'channel', id: channel.id },
        sources: [{ kind: 'channel', channel }],
      })
  return out
}

function outermost(art: Art, layer: Layer, has: (layer: Layer) => boolean): Layer {
  let root = layer
  for (const group of ancestorsOf(art, layer)) {
    if (!has(group)) break
    root = group
  }
  return root
}

/** Whether a leaf and every group between it and the root is switched on. */
function eyesOpen(art: Art, leaf: Layer, root: Layer): boolean {
  if (!leaf.visible) return false
  for (const group of ancestorsOf(art, leaf)) {
    if (group.id === root.id) return true
    if (!group.visible) return false
  }
  return true
}

function whitePlate(plate: Plate, settings: MapSettings): WhitePlate {
  const ids = new Set([
    `${plate.target.kind} ${plate.target.id}`,
    ...plate.sources.flatMap(source =>
      source.kind === 'layers' ? source.layers.map(layer => `layer ${layer.id}`) : [],
    ),
  ])
  const told = settings.whites.find(white => ids.has(`${white.target.kind} ${white.target.id}`))
  return told
    ? { ...plate, opacity: told.opacity, hits: told.hits, assumed: false }
    : { ...plate, ...assumedWhite, assumed: true }
}

/** Channels that print over the art without being named after a process ink. */
function strayInks(art: Art, roles: ReadonlyMap<string, Assigned>, findings: Finding[]): Plate[] {
  return art.channels.flatMap((channel): Plate[] => {
    const one = roles.get(`channel ${channel.id}`)
    if (one?.role !== 'overprint' || processInk(channel.name) !== null) return []
    findings.push({
      severity: 'note',
      code: 'channel-as-ink',
      where: `channel "${channel.name}"`,
      message: 'printed as an ink of its own, since its name is no process ink',
      fix: 'Set its role to spot ink, or name it after cyan, magenta, yellow or black.',
    })
    return [{ name: channel.name, target: one.target, sources: [{ kind: 'channel', channel }] }]
  })
}

function few(plates: readonly Plate[], what: string, findings: Finding[]): readonly Plate[] {
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

function together(plates: readonly Plate[], name: string): Plate | null {
  const [first] = plates
  return first ? { ...first, name, sources: plates.flatMap(plate => plate.sources) } : null
}

/** Every layer of the holography plates is an area; a layer clipped to another of them is part of it. */
async function areasOf(
  file: ArtFile,
  plates: readonly Plate[],
  settings: MapSettings,
  findings: Finding[],
  task: Task | undefined,
): Promise<HolographyArea[]> {
  const { art } = file
  const areas: HolographyArea[] = []
  for (const source of joinClipped(
    art,
    plates.flatMap(plate => plate.sources),
  )) {
    const own: Target =
      source.kind === 'channel'
        ? { kind: 'channel', id: source.channel.id }
        : { kind: 'layer', id: source.layers[0]!.id }
    const name = source.kind === 'channel' ? source.channel.name : source.layers[0]!.name
    const chain = source.kind === 'channel' ? [own] : targetsOf(art, source.layers)
    let chosen = settings.effects.find(one => chain.some(target => same(target, one.target)))
    if (!chosen) {
      const { effect, reason, from } = await suggestEffect(file, own, task)
      chosen = { target: from, effect }
      findings.push({
        severity: 'note',
        code: 'effect-by-rule',
        where: `${own.kind} "${name}"`,
        message: `shown as "${effectKind(effect.kind).title}": ${reason}`,
        fix: 'Choose another effect if it is meant otherwise.',
      })
    }
    const field = prepareEffect(chosen.effect, frame(art, chosen.target, settings))
    areas.push({
      id: areas.length + 1,
      name,
      target: own,
      source,
      mask: maskOf(art, field, name, findings),
      effect: chosen.effect.kind,
      field,
    })
  }
  return areas
}

function joinClipped(art: Art, sources: readonly Source[]): readonly Source[] {
  const out: Source[] = []
  for (const source of sources) {
    const layer = source.kind === 'layers' ? source.layers[0] : undefined
    const base = layer && baseOf(art, layer)
    const at = out.findIndex(one => one.kind === 'layers' && one.layers[0] === base)
    const under = out[at]
    if (layer && layer !== base && under?.kind === 'layers')
      out[at] = { ...under, layers: [...under.layers, layer] }
    else out.push(source)
  }
  return out
}

/** Targets whose effect holds for these layers, nearest first. */
function targetsOf(art: Art, layers: readonly Layer[]): readonly Target[] {
  return [...layers, ...ancestorsOf(art, layers[0]!)].map(layer => ({ kind: 'layer', id: layer.id }))
}

const same = (a: Target, b: Target) => a.kind === b.kind && a.id === b.id

function frame(art: Art, target: Target, settings: MapSettings): EffectFrame {
  return frameOf(art, target.kind === 'layer' ? leavesOf(art, target.id) : [], settings.panel)
}

function maskOf(art: Art, field: EffectField, name: string, findings: Finding[]): Source | null {
  if (field.maskLayerId === null) return null
  const layers = leavesOf(art, field.maskLayerId)
  if (layers.length > 0) return { kind: 'layers', layers, amount: { from: 'alpha' } }
  findings.push({
    severity: 'warning',
    code: 'mask-missing',
    where: `layer "${name}"`,
    message: `its effect is limited by layer ${field.maskLayerId}, which the file does not have`,
    fix: 'Choose the layer again; until then the layer’s own painted area is taken.',
  })
  return null
}

function hiddenPlate(layer: Layer, role: RoleName): Finding {
  return {
    severity: 'warning',
    code: 'hidden-plate',
    where: `layer "${layer.name}"`,
    message: `it is ${role} and switched off in the file; it is used all the same`,
    fix: 'Set its role to ignore if it should not count.',
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
