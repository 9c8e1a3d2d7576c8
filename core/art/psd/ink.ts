import type { InkColor } from '../layer.ts'

/**
 * A colour as channel displays hold it: a space and four 16-bit numbers. CMYK is stored turned round (0 = solid);
 * Lab in hundredths, grey in ten-thousandths, the rest over 65535.
 */
export function colorNumbers(
  space: number,
  numbers: readonly [number, number, number, number],
): InkColor | null {
  const [a, b, c, d] = numbers
  const unit = (v: number): number => v / 0xffff
  switch (space) {
    case 0:
      return { space: 'RGB', values: [unit(a), unit(b), unit(c)] }
    case 1:
      return { space: 'HSB', values: [unit(a), unit(b), unit(c)] }
    case 2:
      return { space: 'CMYK', values: [1 - unit(a), 1 - unit(b), 1 - unit(c), 1 - unit(d)] }
    case 7:
      return { space: 'Lab', values: [a / 100, signed(b) / 100, signed(c) / 100] }
    case 8:
      return { space: 'Gray', values: [Math.min(1, a / 10_000)] }
    default:
      return null
  }
}

const signed = (word: number): number => (word << 16) >> 16
