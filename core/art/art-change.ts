import type { Finding } from '../base/finding.ts'
import type { Art, Box, Layer } from './layer.ts'

/**
 * What another saving of art changed: layers and inks that are new, gone or renamed, and layers that moved or have another
 * size, with how far; names that a long list leaves out are counted.
 */
export function artChange(before: Art, after: Art): Finding {
  const old = new Map(before.layers.map(layer => [layer.id, layer]))
  const now = new Map(after.layers.map(layer => [layer.id, layer]))
  const perMm = after.resolutionPpi === null ? null : after.resolutionPpi / 25.4
  const sameScale = before.resolutionPpi === after.resolutionPpi
  const stayed = sameScale
    ? after.layers.flatMap(layer => {
        const was = old.get(layer.id)
        return was === undefined ? [] : [{ layer, shift: shiftOf(was, before.height, layer, after.height) }]
      })
    : []
  const moved = stayed.flatMap(({ layer, shift }) =>
    shift?.kind === 'moved' ? [{ name: `${quoted(layer)} ${wayOf(shift, perMm)}` }] : [],
  )
  const resized = stayed.flatMap(({ layer, shift }) => (shift?.kind === 'resized' ? [layer] : []))
  const inks = (art: Art) => new Map(art.channels.map(channel => [channel.id, channel]))
  const [oldInks, newInks] = [inks(before), inks(after)]
  const parts = [
    before.width === after.width && before.height === after.height
      ? null
      : `${before.width} × ${before.height} px became ${after.width} × ${after.height} px`,
    listed('new', after.layers.filter(layer => !old.has(layer.id)).map(quoted)),
    listed('gone', before.layers.filter(layer => !now.has(layer.id)).map(quoted)),
    listed(
      'renamed',
      after.layers.filter(layer => (old.get(layer.id)?.name ?? layer.name) !== layer.name).map(quoted),
    ),
    listed(
      'moved',
      moved.map(one => one.name),
    ),
    listed('another size', resized.map(quoted)),
    listed('inks that are new', after.channels.filter(one => !oldInks.has(one.id)).map(quoted)),
    listed('inks that are gone', before.channels.filter(one => !newInks.has(one.id)).map(quoted)),
  ].filter(part => part !== null)
  return {
    severity: 'note',
    code: 'art-changed',
    where: 'document',
    message: parts.length === 0 ? 'same layers in the same places, other pixels' : parts.join('; '),
    fix: 'Roles, areas and effects were kept. Look through the stack where layers are new or gone.',
  }
}

type Shift =
  /** Pixels; y up. */
  { readonly kind: 'moved'; readonly x: number; readonly y: number } | { readonly kind: 'resized' } | null

/** Layers of a page may reach half a pixel further when they are painted anew. */
const least = 2

/** How a layer lies against where it lay; places are counted from the lower left corner, groups go by their members. */
function shiftOf(was: Layer, oldHeight: number, now: Layer, newHeight: number): Shift {
  if (now.kind === 'group' || isEmpty(was.box) || isEmpty(now.box)) return null
  const [a, b] = [was.box, now.box]
  const wider = b.right - b.left - (a.right - a.left)
  const taller = b.bottom - b.top - (a.bottom - a.top)
  if (Math.abs(wider) >= least || Math.abs(taller) >= least) return { kind: 'resized' }
  const x = b.left - a.left
  const y = newHeight - b.bottom - (oldHeight - a.bottom)
  return Math.abs(x) >= least || Math.abs(y) >= least ? { kind: 'moved', x, y } : null
}

const isEmpty = ({ left, top, right, bottom }: Box): boolean => right <= left || bottom <= top

function wayOf({ x, y }: { readonly x: number; readonly y: number }, perMm: number | null): string {
  const length = (pixels: number) =>
    perMm === null ? `${Math.abs(pixels)} px` : `${(Math.abs(pixels) / perMm).toFixed(1)} mm`
  return [
    x === 0 ? null : `${length(x)} to the ${x > 0 ? 'right' : 'left'}`,
    y === 0 ? null : `${length(y)} ${y > 0 ? 'up' : 'down'}`,
  ]
    .filter(part => part !== null)
    .join(', ')
}

const quoted = ({ name }: { readonly name: string }): string => `"${name}"`

function listed(what: string, names: readonly string[]): string | null {
  if (names.length === 0) return null
  const more = names.length - 4
  return `${what}: ${names.slice(0, 4).join(', ')}${more > 0 ? ` and ${more} more` : ''}`
}
