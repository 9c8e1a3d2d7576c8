import type { Art, ArtFile, Layer } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Task } from '../base/task.ts'
import type { EffectField, EffectFrame, EffectSpec } from '../effects/effect.ts'
import { effectKind, knownKind, prepareEffect } from '../effects/kinds.ts'
import { boundsOf, type EffectTarget, type Outline } from '../effects/outline.ts'
import { suggestEffect } from '../effects/suggest.ts'
import { sinusoid } from '../optics/groove.ts'
import { ancestorsOf, baseOf, leavesOf } from '../roles/members.ts'
import type { Target } from '../roles/role.ts'
import { frameOf } from './frame.ts'
import type { AreaSource, Plate, Source } from './plates.ts'
import type { MapSettings } from './settings.ts'

export interface HolographyArea {
  readonly id: number
  readonly name: string
  readonly target: EffectTarget
  readonly source: AreaSource
  /** What limits the effect, when it is not the source's own amount. */
  readonly mask: Source | null
  readonly effect: string
  /** What the field was made from: the effect, and where it has its middle. */
  readonly spec: EffectSpec
  readonly place: Place
  readonly field: EffectField
}

/** A place on the panel: mm from its lower left corner, y up. */
type Place = Pick<EffectFrame, 'centerXMm' | 'centerYMm' | 'widthMm' | 'heightMm'>

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
    const place = frame(art, chosen.target, settings)
    const field = fieldOf(chosen.effect, place, `${own.kind} "${name}"`, findings)
    areas.push({
      id: areas.length + 1,
      name,
      target: own,
      source,
      mask: maskOf(art, field, name, findings) ?? outline,
      effect: chosen.effect.kind,
      spec: chosen.effect,
      place: placeOf(place),
      field,
    })
  }
  return [...areas, ...outlineAreas(art, settings, areas.length, findings)]
}

/** An effect made ready; one that this version does not know leaves the foil plain. Findings say what is wrong. */
function fieldOf(effect: EffectSpec, place: EffectFrame, where: string, findings: Finding[]): EffectField {
  if (!knownKind(effect.kind)) {
    findings.push({
      severity: 'warning',
      code: 'effect-unknown',
      where,
      message: `its effect "${effect.kind}" is not known to this version; it is kept in the job and shown as plain foil`,
      fix: 'Open the job in the version that made it, or choose another effect.',
    })
    return plainFoil
  }
  const field = prepareEffect(effect, place)
  for (const warning of field.warnings ?? []) findings.push({ severity: 'warning', where, ...warning })
  return field
}

const plainFoil: EffectField = {
  kind: 'grating',
  groove: sinusoid,
  readsArt: false,
  maskLayerId: null,
  at: (_x, _y, _tone, out) => {
    out.share = 0
    out.pitch = 1000
    return out
  },
}

/** Shapes that have an effect lie above the holography of the art, in the order of the job, and take its place. */
function outlineAreas(
  art: Art,
  settings: MapSettings,
  before: number,
  findings: Finding[],
): readonly HolographyArea[] {
  const areas: HolographyArea[] = []
  const { widthMm, heightMm } = settings.panel
  for (const outline of settings.outlines ?? []) {
    const target = { kind: 'outline', id: outline.id } as const
    const chosen = settings.effects.find(one => same(one.target, target))
    if (!chosen) continue
    const where = `outline "${outline.name}"`
    const outside = placeFinding(outline, settings.panel, where)
    if (outside) findings.push(outside)
    if (outside?.severity === 'warning') continue
    const place = frame(art, target, settings)
    const field = fieldOf(chosen.effect, place, where, findings)
    if (field.kind === 'grating' && field.readsArt) findings.push(withoutTones(where))
    areas.push({
      id: before + areas.length + 1,
      name: outline.name,
      target,
      source: { kind: 'outline', outline, widthMm, heightMm },
      mask: maskOf(art, field, outline.name, findings),
      effect: chosen.effect.kind,
      spec: chosen.effect,
      place: placeOf(place),
      field,
    })
  }
  return areas
}

/** What is wrong with where an outline lies; a warning where nothing of it is left. */
function placeFinding(outline: Outline, panel: MapSettings['panel'], where: string): Finding | null {
  const bounds = boundsOf(outline)
  const wide = bounds !== null && bounds.rightMm > bounds.leftMm && bounds.topMm > bounds.bottomMm
  if (!wide || !outline.rings.some(ring => ring.length >= 3))
    return {
      severity: 'warning',
      code: 'outline-empty',
      where,
      message: 'it has no area, so its effect is nowhere',
      fix: 'Draw it with at least three corners.',
    }
  const { leftMm, bottomMm, rightMm, topMm } = bounds
  const size = `${panel.widthMm} × ${panel.heightMm} mm`
  if (rightMm <= 0 || leftMm >= panel.widthMm || topMm <= 0 || bottomMm >= panel.heightMm)
    return {
      severity: 'warning',
      code: 'outline-outside',
      where,
      message: `it lies outside the panel of ${size}, so its effect is nowhere`,
      fix: 'Move it onto the panel.',
    }
  if (leftMm >= 0 && bottomMm >= 0 && rightMm <= panel.widthMm && topMm <= panel.heightMm) return null
  return {
    severity: 'note',
    code: 'outline-reaches-out',
    where,
    message: `it reaches beyond the panel of ${size}; what lies outside is left out`,
    fix: 'Nothing, where it is meant to bleed.',
  }
}

const withoutTones = (where: string): Finding => ({
  severity: 'warning',
  code: 'outline-without-colours',
  where,
  message: 'its effect is read from the colours of a drawing, and an outline has none',
  fix: 'Choose another effect, or give this one to the layer that has the drawing.',
})

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
  const outlines = (id: string) => settings.outlines?.find(one => one.id === id)
  const bounds = target.kind === 'outline' ? boundsOf(outlines(target.id) ?? { rings: [] }) : null
  const place = bounds
    ? {
        centerXMm: (bounds.leftMm + bounds.rightMm) / 2,
        centerYMm: (bounds.bottomMm + bounds.topMm) / 2,
        widthMm: bounds.rightMm - bounds.leftMm,
        heightMm: bounds.topMm - bounds.bottomMm,
      }
    : frameOf(art, target.kind === 'layer' ? leavesOf(art, target.id) : [], settings.panel)
  return {
    ...place,
    outlines,
    pixelMm: 25.4 / settings.panel.resolutionPpi,
    ...(settings.views ? { views: settings.views } : {}),
  }
}

const placeOf = ({ centerXMm, centerYMm, widthMm, heightMm }: EffectFrame): Place => ({
  centerXMm,
  centerYMm,
  widthMm,
  heightMm,
})

/** Layers that effects show as pictures. */
function lentLayers(art: Art, settings: MapSettings): ReadonlySet<string> {
  const lent = new Set<string>()
  for (const { target, effect } of settings.effects) {
    if (!knownKind(effect.kind)) continue
    const field = prepareEffect(effect, frame(art, target, settings))
    if (field.kind !== 'pictures') continue
    for (const wanted of field.lends ?? field.wants)
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
