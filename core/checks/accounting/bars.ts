import type { AccountClass, HolographyAccount } from './account.ts'

/** One piece of a bar, as it is drawn and read. */
export interface BarPart {
  readonly kind: Exclude<AccountClass, 'without'> | 'waste'
  readonly cm2: number
  /** Of the bar, 0..1. */
  readonly share: number
}

export interface Bar {
  /** The panel, or null for the whole position on the sheet. */
  readonly panel: string | null
  readonly holographyCm2: number
  /** What somebody sees of it, 0..1. */
  readonly seen: number
  /** Only those that are there. */
  readonly parts: readonly BarPart[]
}

/** What each kind means to whoever pays. */
export const barWords: Readonly<Record<BarPart['kind'], string>> = {
  bare: 'shines freely',
  tinted: 'shines through colour',
  'half-hidden': 'glimmers under white or dark ink',
  hidden: 'hidden by white or ink',
  'under-flaps': 'covered when the carton is closed',
  'under-glue': 'glued over',
  waste: 'cut away',
}

/** A bar for the whole position and one for each panel with holography, the fullest panel first. */
export function barsOf({ panels, wasteCm2, holographyCm2, seenCm2 }: HolographyAccount): readonly Bar[] {
  const kinds = ['bare', 'tinted', 'half-hidden', 'hidden', 'under-flaps', 'under-glue'] as const
  const bar = (
    panel: string | null,
    total: number,
    seen: number,
    areas: readonly (readonly [BarPart['kind'], number])[],
  ): Bar => ({
    panel,
    holographyCm2: total,
    seen: total === 0 ? 0 : seen / total,
    parts: areas.filter(([, cm2]) => cm2 > 0).map(([kind, cm2]) => ({ kind, cm2, share: cm2 / total })),
  })
  const whole = kinds.map(
    kind => [kind, panels.reduce((sum, { classes }) => sum + classes[kind], 0)] as const,
  )
  return [
    bar(null, holographyCm2, seenCm2, [...whole, ['waste', wasteCm2]]),
    ...panels
      .filter(one => one.holographyCm2 > 0)
      .toSorted((a, b) => b.holographyCm2 - a.holographyCm2)
      .map(({ panel, classes, holographyCm2: total }) =>
        bar(
          panel,
          total,
          classes.bare + classes.tinted + classes['half-hidden'],
          kinds.map(kind => [kind, classes[kind]] as const),
        ),
      ),
  ]
}
