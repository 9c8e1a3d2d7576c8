import type { Art, ArtFile, Layer } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Task } from '../base/task.ts'
import type { EffectField, EffectFrame, EffectSpec } from '../effects/effect.ts'
import { effectKind, prepareEffect } from '../effects/kinds.ts'
import type { EffectTarget } from '../effects/outline.ts'
import { suggestEffect } from '../effects/suggest.ts'
import { ancestorsOf, baseOf, leavesOf } from '../roles/members.ts'
import type { Target } from '../roles/role.ts'
import { frameOf } from './frame.ts'
import type { Plate, Source } from './plates.ts'
import type { MapSettings } from './settings.ts'

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

/** Every layer of the holography plates is an area; a layer clipped to another of them is part of it. */
export async function areasOf(
  file: ArtFile,
  plates: readonly Plate[],
  settings: MapSettings,
  findings: Finding[],
  task: Task | undefined,
): Promise<HolographyArea[]> {
  const { art } = file
  const areas: HolographyArea[] = []
  const lent = lentLayers(art, settings)
  for (const { source, outline } of joinClipped(
    art,
    plates.flatMap(plate => plate.sources),
  )) {
    const own: Target =
      source.kind === 'channel'
        ? { kind: 'channel', id: source.channel.id }
        : { kind: 'layer', id: source.layers[0]!.id }
    const name = source.kind === 'channel' ? source.channel.name : source.layers[0]!.name
    const chain = source.kind === 'channel' ? [own] : targetsOf(art, source.layers)
    let chosen: { readonly target: EffectTarget; readonly effect: EffectSpec } | undefined = chain
      .map(target => settings.effects.find(one => same(target, one.target)))
      .find(one => one !== undefined)
    if (!chosen && source.kind === 'layers' && lent.has(source.layers[0]!.id)) {
      findings.push({
        severity: 'note',
        code: 'shown-by-another',
        where: `layer "${name}"`,
        message: 'it is a picture in the effect of another layer and has none of its own',
        fix: 'Choose an effect for it if it should have one as well.',
      })
      continue
    }
    if (!chosen) {
      const painted = source.kind === 'layers' ? source.layers : []
      const { effect, reason, from } = await suggestEffect(file, own, painted, task)
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
    for (const warning of field.warnings ?? [])
      findings.push({ severity: 'warning', where: `${own.kind} "${name}"`, ...warning })
    areas.push({
      id: areas.length + 1,
      name,
      target: own,
      source,
      mask: maskOf(art, field, name, findings) ?? outline,
      effect: chosen.effect.kind,
      field,
    })
  }
  return areas
}

interface Joined {
  readonly source: Source
  /** The layer that others are clipped to, where its own amount is not simply how opaque it is painted. */
  readonly outline: Source | null
}

function joinClipped(art: Art, sources: readonly Source[]): readonly Joined[] {
  const out: Joined[] = []
  for (const source of sources) {
    const layer = source.kind === 'layers' ? source.layers[0] : undefined
    const base = layer && baseOf(art, layer)
    const at = out.findIndex(one => one.source.kind === 'layers' && one.source.layers[0] === base)
    const under = out[at]
    if (layer && layer !== base && under?.source.kind === 'layers') {
      const { layers, amount } = under.source
      // Once other colours lie on the base, its amount can only be read from the base alone.
      const outline = under.outline ?? (amount.from === 'alpha' ? null : under.source)
      out[at] = { source: { kind: 'layers', layers: [...layers, layer], amount: { from: 'alpha' } }, outline }
    } else out.push({ source, outline: null })
  }
  return out
}

/** Targets whose effect holds for these layers, nearest first. */
function targetsOf(art: Art, layers: readonly Layer[]): readonly Target[] {
  return [...layers, ...ancestorsOf(art, layers[0]!)].map(layer => ({ kind: 'layer', id: layer.id }))
}

const same = (a: EffectTarget, b: EffectTarget) => a.kind === b.kind && a.id === b.id

function frame(art: Art, target: EffectTarget, settings: MapSettings): EffectFrame {
  const place = frameOf(art, target.kind === 'layer' ? leavesOf(art, target.id) : [], settings.panel)
  return settings.views ? { ...place, views: settings.views } : place
}

/** Layers that effects show as pictures. */
function lentLayers(art: Art, settings: MapSettings): ReadonlySet<string> {
  const lent = new Set<string>()
  for (const { target, effect } of settings.effects) {
    const field = prepareEffect(effect, frame(art, target, settings))
    if (field.kind !== 'pictures') continue
    for (const wanted of field.wants)
      if (wanted.from === 'layer') for (const leaf of leavesOf(art, wanted.id)) lent.add(leaf.id)
  }
  return lent
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
