import type { Art, Channel } from '../art/layer.ts'
import { leavesOf } from '../roles/members.ts'
import type { Target } from '../roles/role.ts'

/**
 * What a file states of its inks beside their colour: how solid they are, and in which order they print.
 * Solidity is 1 for an ink that covers all that lies beneath and 0 for one that lets all of it through (ISO 32000-2,
 * 8.6.6.5, table 72, `Solidities`; image resources say the same in per cent). Both ends agree with opacity as a contrast
 * ratio; in between the standard names no measurement, so a number taken from there is an estimate.
 */

/** Opacity that one hit of white usually has, 0..1: flexo, offset, inkjet and screen together; plant figures and memory. */
export const usualOpacity = [0.3, 0.9] as const

/**
 * Solidity of the ink of a plate, in (0, 1], or null where the file states none, or inks that print it together differ.
 * A stated 0 counts as none: files write it for inks that nobody thought about, and a white that hides nothing is not meant.
 */
export function statedOpacity(art: Art, target: Target): number | null {
  const [stated, ...others] = new Set(
    inksOf(art, target)
      .map(channel => channel.opacity ?? 0)
      .filter(opacity => opacity > 0),
  )
  return stated === undefined || others.length > 0 ? null : stated
}

/**
 * The opacity that a white begins with because its file states it, 0..1; null where it states none, and where it states
 * more than one hit of white has: programs write 1 for "hides", and a picture that promises so much would mislead.
 */
export function statedWhite(art: Art, target: Target): number | null {
  const stated = statedOpacity(art, target)
  return stated !== null && stated <= usualOpacity[1] ? stated : null
}

/** Channels that print a part; layers of a file that tells no inks apart have none. */
function inksOf(art: Art, { kind, id }: Target): readonly Channel[] {
  if (kind === 'channel') return art.channels.filter(channel => channel.id === id)
  const inks = new Set(leavesOf(art, id).flatMap(layer => layer.inks ?? []))
  return art.channels.filter(channel => inks.has(channel.id))
}

/** Place of a plate in the order that the file states; null where it states none. */
export function statedOrder(art: Art, target: Target): Pick<Channel, 'order' | 'process'> | null {
  const stated = inksOf(art, target).filter(channel => channel.order !== undefined)
  const [first] = stated.toSorted((a, b) => a.order! - b.order!)
  return first ?? null
}
