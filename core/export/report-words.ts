/** At most so many digits after the point, no trailing zeros, a true minus sign. */
export const round = (value: number, digits: number): string =>
  String(Number(value.toFixed(digits))).replace('-', '−')

/** A value with its unit, as in `1200 nm`; a word as it is. */
export const valueWords = (value: number | string, unit: string): string =>
  typeof value === 'string' ? value : `${round(value, 3)} ${unit}`.trim()
