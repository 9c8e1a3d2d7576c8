import type { MaterialMap } from '../../material/map.ts'
import type { BoxMm } from '../finding.ts'
import { bytesOf } from '../plane-bytes.ts'

/** A place that somebody marked: a code for a scanner, or a colour that must hold. */
export interface MarkedPlace {
  /** Unique among the places; names it in a waiver. */
  readonly name: string
  readonly kind: 'code' | 'brand-colour'
  readonly box: BoxMm
}

/** Pixels whose colour must not be the metal's: a spot ink's, or those of a marked place. */
export interface Guarded {
  /** Stays the same while the plate or the place does. */
  readonly key: string
  /** As a designer would call it. */
  readonly where: string
  readonly kind: 'brand-colour' | 'code'
  /** One byte a pixel, 0 = not of it. */
  readonly within: Uint8Array
}

/** Tone from which a spot ink is there, and metal from which a place is foil, 0..255. */
const inked = 13
const metallic = 128

/** What needs full white on the foil of a map. */
export function guardedOf(map: MaterialMap, marks: readonly MarkedPlace[]): readonly Guarded[] {
  const metal = bytesOf(map, 'metal')
  if (metal === null) return []
  const spots = map.spots.map(({ name, coverage }): Guarded => {
    const tones = bytesOf(map, coverage) ?? new Uint8Array(metal.length)
    const within = tones.map((tone, i) => (tone >= inked && metal[i]! >= metallic ? 1 : 0))
    return { key: `spot ${name}`, where: `spot ink "${name}"`, kind: 'brand-colour', within }
  })
  const placed = marks.map(({ name, kind, box }): Guarded => {
    const within = new Uint8Array(metal.length)
    forPixels(map, box, i => {
      if (metal[i]! >= metallic) within[i] = 1
    })
    return {
      key: `mark ${name}`,
      where: `marked ${kind === 'code' ? 'code' : 'colour'} "${name}"`,
      kind,
      within,
    }
  })
  return [...spots, ...placed]
}

/** Every pixel of a map with its middle in a box. */
export function forPixels(
  { width, height, widthMm, heightMm }: MaterialMap,
  { leftMm, rightMm, bottomMm, topMm }: BoxMm,
  at: (i: number, x: number, y: number) => void,
): void {
  const column = (xMm: number) => Math.min(width, Math.max(0, Math.ceil((xMm / widthMm) * width - 0.5)))
  const row = (yMm: number) => Math.min(height, Math.max(0, Math.ceil((1 - yMm / heightMm) * height - 0.5)))
  for (let y = row(topMm); y < row(bottomMm); y++)
    for (let x = column(leftMm); x < column(rightMm); x++) at(y * width + x, x, y)
}
