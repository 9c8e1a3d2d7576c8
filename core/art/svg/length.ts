/** Millimetres in one unit of CSS, which SVG uses: 1 in = 25.4 mm = 72 pt = 6 pc = 96 px. */
export const unitMm = {
  mm: 1,
  cm: 10,
  in: 25.4,
  pt: 25.4 / 72,
  pc: 25.4 / 6,
  px: 25.4 / 96,
  Q: 0.25,
} as const

export type LengthUnit = keyof typeof unitMm

export const isLengthUnit = (text: string): text is LengthUnit => Object.hasOwn(unitMm, text)

export interface Length {
  readonly value: number
  /** `''` where none is written. */
  readonly unit: LengthUnit | '' | '%'
}

/** A length as SVG writes it; null when it is none, or in a unit that depends on a typeface. */
export function lengthOf(text: string | undefined): Length | null {
  const match = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(%|[A-Za-z]*)\s*$/.exec(text ?? '')
  if (match === null) return null
  const value = Number(match[1])
  const written = match[2]!
  const unit = written === 'q' || written === 'Q' ? 'Q' : written.toLowerCase()
  if (!Number.isFinite(value)) return null
  return unit === '' || unit === '%' || isLengthUnit(unit) ? { value, unit } : null
}

/**
 * A length inside a drawing, in its own units.
 * @param whole  what 100 % is
 */
export function unitsOf(text: string | undefined, whole: number, otherwise = 0): number {
  const length = lengthOf(text)
  if (length === null) return otherwise
  if (length.unit === '%') return (length.value / 100) * whole
  return length.unit === '' ? length.value : (length.value * unitMm[length.unit]) / unitMm.px
}
