import type { Point } from '../die.ts'

/** A length for a sentence: `0.4 mm`. */
export const mm = (length: number): string => `${Number(length.toFixed(length < 10 ? 2 : 1))} mm`

/** A place for a sentence. */
export const place = ([x, y]: Point): string => `x ${number(x)}, y ${number(y)} mm`

const number = (value: number) => `${Number(value.toFixed(1))}`.replace('-', '−')

/** `1 line`, `3 lines`. */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`
