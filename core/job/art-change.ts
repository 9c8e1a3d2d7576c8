import type { InkColor } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import { sameTarget } from './edit.ts'
import type { SeenArt, SeenPart } from './seen.ts'

/** What another saving of art changed. */
export interface ArtChange {
  /** Sizes in mm, where they differ. */
  readonly size: { readonly before: Size; readonly after: Size } | null
  readonly came: readonly SeenPart[]
  readonly gone: readonly SeenPart[]
  readonly renamed: readonly { readonly before: SeenPart; readonly after: SeenPart }[]
  /** By how far, mm to the right and up. */
  readonly moved: readonly { readonly part: SeenPart; readonly xMm: number; readonly yMm: number }[]
  readonly resized: readonly SeenPart[]
  /** Inks for which another colour stands. */
  readonly recoloured: readonly { readonly before: SeenPart; readonly after: SeenPart }[]
}

type Size = readonly [widthMm: number, heightMm: number]

/** Layers of a page may reach half a pixel further when they are painted anew: nearer than this is the same place. */
const leastPixels = 2

/**
 * What differs between two states of art. A part is known again by its id. One that is gone and one that came are taken
 * for one that was renamed where both lie in the same place, have the same ink, and no third does.
 */
export function artChange(before: SeenArt, after: SeenArt): ArtChange {
  const least = (leastPixels - 0.01) * Math.max(before.pixelMm, after.pixelMm)
  const lost = before.parts.filter(part => !has(after, part))
  const fresh = after.parts.filter(part => !has(before, part))
  const renamed = lost.flatMap(part => {
    const like = (list: readonly SeenPart[], one: SeenPart) =>
      list.filter(two => alike(one, two, before, least))
    const [found, ...more] = like(fresh, part)
    return found === undefined || more.length > 0 || like(lost, found).length > 1
      ? []
      : [{ before: part, after: found }]
  })
  const stayed = before.parts.flatMap(part => {
    const now = after.parts.find(one => sameTarget(one.target, part.target))
    return now === undefined ? [] : [{ before: part, after: now }]
  })
  const shifts = stayed
    .filter(({ after: { ofLayers } }) => ofLayers === undefined)
    .map(pair => ({ part: pair.after, shift: shiftOf(pair, least) }))
  const moved = shifts.flatMap(({ part, shift }) => (shift?.kind === 'moved' ? [{ part, ...shift }] : []))
  const resized = shifts.flatMap(({ part, shift }) => (shift?.kind === 'resized' ? [part] : []))
  const sizes: { before: Size; after: Size } = {
    before: [before.widthMm, before.heightMm],
    after: [after.widthMm, after.heightMm],
  }
  const grew = sizes.before.some((mm, i) => Math.abs(mm - sizes.after[i]!) >= least)
  return {
    size: grew ? sizes : null,
    came: fresh.filter(part => !renamed.some(one => one.after === part)),
    gone: lost.filter(part => !renamed.some(one => one.before === part)),
    renamed: [...stayed.filter(pair => pair.before.name !== pair.after.name), ...renamed],
    moved,
    resized,
    recoloured: stayed.filter(pair => !sameInk(pair.before.ink, pair.after.ink)),
  }
}

const isLayer = ({ target }: SeenPart): boolean => target.kind === 'layer'

const has = (art: SeenArt, { target }: SeenPart): boolean =>
  art.parts.some(one => sameTarget(one.target, target))

/** Whether two parts may be one under two names. What covers the whole art is where much else may lie too. */
function alike(a: SeenPart, b: SeenPart, art: SeenArt, least: number): boolean {
  if (a.target.kind !== b.target.kind || a.boxMm === null || b.boxMm === null) return false
  if (!sameInk(a.ink, b.ink)) return false
  const [left, bottom, right, top] = a.boxMm
  const isWhole = left < least && bottom < least && right > art.widthMm - least && top > art.heightMm - least
  return (a.ink !== null || !isWhole) && a.boxMm.every((mm, i) => Math.abs(mm - b.boxMm![i]!) < least)
}

const sameInk = (a: InkColor | null, b: InkColor | null): boolean =>
  a === null || b === null
    ? a === b
    : a.space === b.space &&
      a.values.length === b.values.length &&
      a.values.every((value, i) => Math.abs(value - b.values[i]!) < 1e-3)

type Shift =
  | { readonly kind: 'moved'; readonly xMm: number; readonly yMm: number }
  | { readonly kind: 'resized' }
  | null

/** How a part lies against where it lay. */
function shiftOf({ before, after }: { before: SeenPart; after: SeenPart }, least: number): Shift {
  const [a, b] = [before.boxMm, after.boxMm]
  if (a === null || b === null) return null
  const wider = b[2] - b[0] - (a[2] - a[0])
  const taller = b[3] - b[1] - (a[3] - a[1])
  if (Math.abs(wider) >= least || Math.abs(taller) >= least) return { kind: 'resized' }
  const [xMm, yMm] = [b[0] - a[0], b[1] - a[1]]
  return Math.abs(xMm) >= least || Math.abs(yMm) >= least ? { kind: 'moved', xMm, yMm } : null
}

/** Names that a list of one sentence gives; the others are counted. */
const mostNames = 4

/**
 * A change in words, a line for each kind of it; none where only pixels differ.
 * @param most names of a line; more are counted
 */
export function changeLines(change: ArtChange, most = Number.POSITIVE_INFINITY): readonly string[] {
  const { size, came, gone, renamed, moved, resized, recoloured } = change
  const layers = (parts: readonly SeenPart[]) => parts.filter(isLayer).map(quoted)
  const inks = (parts: readonly SeenPart[]) => parts.filter(part => !isLayer(part)).map(quoted)
  const said = ([width, height]: Size) => `${width.toFixed(1)} × ${height.toFixed(1)} mm`
  return [
    size === null ? null : `${said(size.before)} became ${said(size.after)}`,
    listed('new', layers(came), most),
    listed('gone', layers(gone), most),
    listed('inks that are new', inks(came), most),
    listed('inks that are gone', inks(gone), most),
    listed(
      'renamed',
      renamed.map(({ before, after }) => `${quoted(before)} to ${quoted(after)}`),
      most,
    ),
    listed(
      'moved',
      moved.map(({ part, xMm, yMm }) => `${quoted(part)} ${wayOf(xMm, yMm)}`),
      most,
    ),
    listed('another size', resized.map(quoted), most),
    listed(
      'inks of another colour',
      recoloured.map(({ before, after }) => `${quoted(after)} ${inkOf(before.ink)} to ${inkOf(after.ink)}`),
      most,
    ),
  ].filter(line => line !== null)
}

/** The same as one finding. */
export function artChangeFinding(change: ArtChange): Finding {
  const lines = changeLines(change, mostNames)
  const { came, gone } = change
  return {
    severity: gone.length > 0 ? 'warning' : 'note',
    code: 'art-changed',
    where: 'document',
    message: lines.length === 0 ? 'same layers in the same places, other pixels' : lines.join('; '),
    fix:
      came.length + gone.length === 0
        ? 'Roles, areas and effects were kept.'
        : 'Roles, areas and effects were kept. Look through the stack where layers are new or gone.',
  }
}

function wayOf(xMm: number, yMm: number): string {
  const length = (mm: number) => Math.abs(mm).toFixed(1)
  const ways = [
    length(xMm) === '0.0' ? null : `${length(xMm)} mm to the ${xMm > 0 ? 'right' : 'left'}`,
    length(yMm) === '0.0' ? null : `${length(yMm)} mm ${yMm > 0 ? 'up' : 'down'}`,
  ].filter(way => way !== null)
  return ways.length === 0 ? 'by less than 0.1 mm' : ways.join(', ')
}

function inkOf(ink: InkColor | null): string {
  if (ink === null) return 'no colour'
  const scale = ink.space === 'Lab' ? 1 : 100
  return `${ink.space} ${ink.values.map(value => Math.round(value * scale)).join(' ')}`
}

const quoted = ({ name }: SeenPart): string => `"${name}"`

function listed(what: string, names: readonly string[], most: number): string | null {
  if (names.length === 0) return null
  const more = names.length - most
  return `${what}: ${names.slice(0, most).join(', ')}${more > 0 ? ` and ${more} more` : ''}`
}
