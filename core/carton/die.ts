/** A place on the unfolded board, mm: x right, y up, print side toward the viewer. */
export type Point = readonly [x: number, y: number]

/** A closed line without its first point repeated; counter-clockwise where it bounds a panel. */
export type Outline = readonly Point[]

export const lineKinds = ['cut', 'crease', 'reverse-crease', 'perforation', 'tear', 'cut-crease'] as const

/**
 * What a rule of the die does to the board: a reverse crease is made from the other side and folds toward the print,
 * a tear line is perforated to be torn, a cut-crease cuts and creases by turns.
 */
export type LineKind = (typeof lineKinds)[number]

export interface DieLine {
  readonly kind: LineKind
  /** Two points or more; a closed line repeats its first point at the end. Arcs are flattened. */
  readonly points: readonly Point[]
}

/** The drawing a die maker works from, with the zones that are not steel. */
export interface Die {
  readonly lines: readonly DieLine[]
  /** Where glue goes: kept free of ink and varnish. */
  readonly glue: readonly Outline[]
  /** How far art reaches, over the cut. */
  readonly bleed: readonly Outline[]
}
