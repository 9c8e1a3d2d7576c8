import type { Art, Channel, Layer } from '../art/layer.ts'
import { processNames } from '../art/process-name.ts'
import { holoMapGroup, readStep, stepWords } from '../art/processing-steps.ts'
import type { StatedStep } from '../art/step.ts'
import type { Amount, Assigned, RoleName, Target } from './role.ts'
import { roleOfStep, stepOf } from './steps.ts'
import { motifTerms, roleTerms } from './terms.ts'
import { findTerms } from './words.ts'

export interface RoleRules {
  /** Words the user taught; they come before the built-in ones. */
  readonly aliases: readonly { readonly word: string; readonly role: RoleName }[]
  /** What the user set by hand; it comes before everything. */
  readonly choices: readonly {
    readonly target: Target
    readonly role: RoleName
    readonly amount: Amount | null
  }[]
}

/**
 * The role of every layer, group and channel, each with its reason, in the order of the file (layers, then channels).
 * First that applies: the user's choice, an ISO 19593-1 step that the file states, the user's words, a step's name, a
 * trade word that is no motif, the role of the group it lies in, a word that may be a motif, the kind of channel, and
 * overprint for what is left. Where a file tells which layers an ink lies in, areas (holography, dieline, …) are the
 * layers', and plates (white, varnish, an ink) the channel's: the other of the two is ignored.
 * Pixels are not looked at: `askAmount` stays true where they have to be (see `suggestAmount`).
 */
export function assignRoles(art: Art, rules: RoleRules): readonly Assigned[] {
  const found = new Map<string, Found>()
  const isMapped = art.layers.some(layer => layer.step?.group === holoMapGroup)
  const byId = new Map(art.layers.map(layer => [layer.id, layer]))
  const roleOf = (layer: Layer): Found => {
    const known = found.get(layer.id)
    if (known) return known
    const parent = layer.parent === null ? undefined : byId.get(layer.parent)
    const result = ofLayer(layer, parent && { layer: parent, found: roleOf(parent) }, rules, isMapped)
    found.set(layer.id, result)
    return result
  }
  // A reading chosen for a group holds for the members that have their role from it.
  const amountOf = (layer: Layer): Amount | null => {
    const own = choiceFor(rules, { kind: 'layer', id: layer.id })
    if (own?.amount) return own.amount
    const parent = layer.parent === null ? undefined : byId.get(layer.parent)
    return parent && roleOf(layer).by === 'group' ? amountOf(parent) : null
  }
  return [
    ...art.layers.map((layer): Assigned => {
      const target: Target = { kind: 'layer', id: layer.id }
      const found = playedBy(layer, roleOf(layer), rules)
      return { target, ...withAmount(found, layer, amountOf(layer)) }
    }),
    ...art.channels.map((channel): Assigned => {
      const target: Target = { kind: 'channel', id: channel.id }
      const amount = choiceFor(rules, target)?.amount ?? null
      const members = (channel.layers ?? []).map(id => byId.get(id)!)
      const found = ofChannel(
        channel,
        members.map(layer => ({ layer, found: roleOf(layer) })),
        art,
        rules,
      )
      return { target, ...withAmount(found, 'channel', amount) }
    }),
  ]
}

/** Roles whose amount is read from pixels as one number; the others are printed as drawn or not at all. */
export const measuredRoles: ReadonlySet<RoleName> = new Set([
  'substrate',
  'holography',
  'white',
  'spotInk',
  'varnish',
])

/** Roles of what is told by where it lies, not by how it prints. */
const areaRoles: ReadonlySet<RoleName> = new Set([
  'substrate',
  'holography',
  'emboss',
  'foilStamp',
  'dieline',
  'glueZone',
  'codingArea',
  'legend',
])

/** A layer that is drawn in inks of its own alone is their plates' business, unless it is an area or somebody chose. */
function playedBy(layer: Layer, found: Found, rules: RoleRules): Found {
  if (layer.inks === undefined || found.role === 'ignore' || playsItself(layer, found, rules)) return found
  const inks = layer.inks.map(name => `"${name}"`).join(' and ')
  return { ...found, role: 'ignore', reason: `drawn in ${inks} alone: the channel is the plate` }
}

const playsItself = (layer: Layer, { role }: Found, rules: RoleRules): boolean =>
  areaRoles.has(role) ||
  (role !== 'ignore' && choiceFor(rules, { kind: 'layer', id: layer.id }) !== undefined)

interface Found {
  readonly role: RoleName
  readonly reason: string
  readonly by: Assigned['by']
  /** False for the last resort: nothing said so, so it is not handed on to the members of a group. */
  readonly told: boolean
}

/** @param isMapped whether the file has the map of holography in layers of its own */
function ofLayer(
  layer: Layer,
  parent: { layer: Layer; found: Found } | undefined,
  rules: RoleRules,
  isMapped: boolean,
): Found {
  const choice = choiceFor(rules, { kind: 'layer', id: layer.id })
  if (choice) return { role: choice.role, reason: 'set by you', by: 'job', told: true }
  const step = fromStep(layer.step)
  // A position says where something is that others draw: beside the map it is an outline and no second holography.
  if (step?.role === 'holography' && isMapped && layer.step?.group === 'Positions')
    return {
      ...step,
      role: 'legend',
      reason: `${step.reason}; the map of holography is in layers of its own`,
    }
  if (step) return step
  // A text layer is called after its own words, which say nothing about plates.
  const name = namedAfterText(layer) ? '' : layer.name
  const own = fromPath(layer, fromName(name, rules))
  if (own && !own.motif) return own
  if (parent?.found.told) {
    const { role } = parent.found
    const reason =
      own && own.role !== role
        ? `inside group "${parent.layer.name}"; ${own.reason}, which is taken as a motif`
        : `inside group "${parent.layer.name}"`
    return { role, reason, by: 'group', told: true }
  }
  if (own) return own
  const reason =
    layer.kind === 'adjustment'
      ? 'an adjustment of the artwork'
      : layer.kind === 'text'
        ? 'text, and nothing says otherwise'
        : layer.kind === 'flat'
          ? 'the file has no layers: its one picture is printed'
          : 'ordinary artwork: no trade word in its name or its groups'
  return { role: 'overprint', reason, by: 'rule', told: false }
}

const fromPath = <F extends Found | null>({ savedPath }: Layer, found: F): F =>
  savedPath && found !== null ? { ...found, reason: `saved path, ${found.reason}` } : found

/** The role of a step that a file states; null where it states none, or one that is not in order. */
function fromStep(stated: StatedStep | undefined): Found | null {
  const step = stated ? readStep(stated.group, stated.type) : null
  const role = step && roleOfStep(step)
  if (step === null || role === null) return null
  return { role, reason: `the file states the ISO 19593-1 step ${stepWords(step)}`, by: 'rule', told: true }
}

interface Member {
  readonly layer: Layer
  readonly found: Found
}

/** @param members the layers that it lies in, with what they are before it is asked who plays it */
function ofChannel(channel: Channel, members: readonly Member[], art: Art, rules: RoleRules): Found {
  const choice = choiceFor(rules, { kind: 'channel', id: channel.id })
  if (choice) return { role: choice.role, reason: 'set by you', by: 'job', told: true }
  const rule = (role: RoleName, reason: string): Found => ({ role, reason, by: 'rule', told: true })
  if (channel.kind === 'transparency') return rule('ignore', 'how transparent the whole picture is, no plate')
  if (members.length > 0 && members.every(({ layer, found }) => playsItself(layer, found, rules)))
    return rule('ignore', `all of it lies in ${namesOf(members)}, which ${rolesOf(members)}`)
  const step = fromStep(channel.step)
  if (step) return step
  const own = fromName(channel.name, rules)
  if (own) return { ...own, reason: `${channel.kind} channel, ${own.reason}` }
  const [first] = members
  if (first?.found.told && members.every(({ found }) => found.role === first.found.role))
    return rule(first.found.role, `spot channel, all of it in ${namesOf(members)}: ${first.found.reason}`)
  if (channel.kind === 'alpha')
    return rule('ignore', 'alpha channel: a saved selection, no trade word in its name')
  if (art.colorMode === 'Multichannel' && processInk(channel.name) !== null)
    return rule('overprint', `channel named after the process ink ${processInk(channel.name)}`)
  return rule('spotInk', `spot channel: prints an ink of its own, "${channel.name}"`)
}

function namesOf(members: readonly Member[]): string {
  const names = [...new Set(members.map(({ layer }) => `"${layer.name}"`))]
  return `${names.length === 1 ? 'layer' : 'layers'} ${names.join(', ')}`
}

function rolesOf(members: readonly Member[]): string {
  const roles = [...new Set(members.map(({ found }) => found.role))].join(' and ')
  return new Set(members.map(({ layer }) => layer.name)).size === 1 ? `is ${roles}` : `are ${roles}`
}

/** The process ink that a channel is named after (`=`: the whole name), or null. */
export function processInk(name: string): 'C' | 'M' | 'Y' | 'K' | null {
  const table = processNames.map(([ink, terms]) => [ink, terms.map(term => `=${term}`)] as const)
  return findTerms(name, table)[0]?.value ?? null
}

function choiceFor(rules: RoleRules, target: Target) {
  return rules.choices.find(choice => choice.target.kind === target.kind && choice.target.id === target.id)
}

function namedAfterText(layer: Layer): boolean {
  if (layer.text === null) return false
  const squeeze = (text: string) => text.replace(/\s+/g, ' ').trim().toLowerCase()
  const name = squeeze(layer.name)
  return name !== '' && squeeze(layer.text.value).startsWith(name)
}

function fromName(name: string, rules: RoleRules): (Found & { motif: boolean }) | null {
  const taught = findTerms(
    name,
    rules.aliases.map(alias => [alias.role, [alias.word]] as const),
  )[0]
  if (taught)
    return {
      role: taught.value,
      reason: `name has your word "${taught.term}"`,
      by: 'job',
      told: true,
      motif: false,
    }
  const step = stepOf(name)
  const rule = { by: 'rule', told: true } as const
  if (step && !motifTerms.has(step.name.toLowerCase()))
    return { role: step.role, reason: `name is the ISO 19593-1 step ${step.name}`, ...rule, motif: false }
  const hits = findTerms(name, roleTerms).filter(hit => !hit.behind)
  const rank = (role: RoleName) => roleTerms.findIndex(([value]) => value === role)
  const best = hits.toSorted((a, b) => rank(a.value) - rank(b.value))[0]
  if (!best) return null
  const other = hits.find(hit => hit.value !== best.value)
  const also = other ? ` (and "${other.words}")` : ''
  const motif = hits.every(hit => motifTerms.has(hit.term.replace('=', '')))
  return { role: best.value, reason: `name has "${best.words}"${also}`, ...rule, motif }
}

function withAmount(
  { role, reason, by }: Found,
  of: Layer | 'channel',
  chosen: Amount | null,
): Omit<Assigned, 'target'> {
  const base = { role, reason, by, askAmount: false }
  if (chosen) return { ...base, amount: chosen, amountReason: 'set by you' }
  if (of === 'channel')
    return { ...base, amount: { from: 'plane' }, amountReason: "the channel's own samples" }
  const alpha: Amount = { from: 'alpha' }
  if (!measuredRoles.has(role)) {
    const printed = role === 'overprint'
    const amountReason = printed ? 'printed as it is drawn' : 'kept and shown; nothing is printed from it'
    return { ...base, amount: alpha, amountReason }
  }
  if (of.kind === 'group')
    return { ...base, amount: alpha, amountReason: 'each layer in it is read by itself' }
  if (of.kind === 'adjustment') return { ...base, amount: alpha, amountReason: 'it has no pixels of its own' }
  if (of.inks !== undefined) return { ...base, amount: alpha, amountReason: 'how much of its ink there is' }
  return {
    ...base,
    amount: alpha,
    askAmount: true,
    amountReason: 'where it is painted; its pixels have not been looked at yet',
  }
}
