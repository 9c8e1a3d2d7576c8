import type { Allowances } from './settings.ts'

/** The panels that are as long as the carton. The glue flap hangs on the back. */
export type MainPanel = 'front' | 'back'

/** How a crease that holds a lid may be made. */
export type FoldRule = 'crease' | 'perforation' | 'cut-crease'

/** How one end of the body closes. */
export type End =
  /** A lid on `on` with a tongue that slides in behind the other main panel, over two dust flaps. */
  | { readonly kind: 'tuck'; readonly on: MainPanel; readonly rule?: FoldRule }
  /** Four flaps glued; the outer one hangs on `on`. */
  | { readonly kind: 'seal'; readonly on: MainPanel }
  /** Four flaps that hold each other; the one with the tongue hangs on the front. */
  | { readonly kind: 'snap-lock' }
  /** Two pairs of flaps, glued while the body lies askew; as it is squared up they swing out and cross in the middle. */
  | { readonly kind: 'crash-lock' }
  | { readonly kind: 'open' }

export const endKinds = [
  'tuck',
  'seal',
  'snap-lock',
  'crash-lock',
  'open',
] as const satisfies readonly End['kind'][]

/** A named pair of ends. */
export interface CartonStyle {
  readonly name: string
  readonly says: string
  readonly top: End
  readonly bottom: End
}

export const measures = ['outside', 'inside', 'crease'] as const

/**
 * What a size means: `outside` and `inside` of the closed carton, the latter where the glue flap is;
 * `crease` from crease to crease of the first and second panel after the glue flap, and along the second one.
 */
export type Measure = (typeof measures)[number]

/** All that makes a carton; plain JSON. */
export interface CartonSpec {
  readonly top: End
  readonly bottom: End
  readonly lengthMm: number
  readonly widthMm: number
  readonly heightMm: number
  readonly measure: Measure
  readonly caliperMm: number
  /** Allowances that differ from the usual ones. */
  readonly own: Partial<Allowances>
  /** What a catalogue calls the style; it says nothing about the geometry. Empty until somebody enters it. */
  readonly code: string
}
