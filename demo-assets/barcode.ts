import { addText } from './lettering.ts'
import { addShape, type Cover } from './page.ts'

/**
 * EAN-13 patterns of the left-hand odd set; even is the odd one's right-hand form mirrored, right is its complement.
 * Source: GS1 General Specifications, section 5.2.1.
 */
const odd = [
  '0001101',
  '0011001',
  '0010011',
  '0111101',
  '0100011',
  '0110001',
  '0101111',
  '0111011',
  '0110111',
  '0001011',
]
/** Which of the six left digits are even, by first digit. */
const parity = [
  '000000',
  '001011',
  '001101',
  '001110',
  '010011',
  '011001',
  '011100',
  '010101',
  '010110',
  '011010',
]

/** The code's number for the demo: prefix 20 is free for use inside a company. */
export const number = withCheck('201234560012')

export function withCheck(twelve: string): string {
  const sum = [...twelve].reduce((total, digit, i) => total + Number(digit) * (i % 2 ? 3 : 1), 0)
  return twelve + ((10 - (sum % 10)) % 10)
}

/** 95 modules, `1` is a bar. */
export function modules(thirteen: string): string {
  const right = (digit: string) => [...odd[Number(digit)]!].map(bit => (bit === '1' ? '0' : '1')).join('')
  const even = (digit: string) => [...right(digit)].reverse().join('')
  const sets = parity[Number(thirteen[0])]!
  const left = [...thirteen.slice(1, 7)].map((d, i) => (sets[i] === '1' ? even(d) : odd[Number(d)]!)).join('')
  return `101${left}01010${[...thirteen.slice(7)].map(right).join('')}101`
}

/** Bars and digits, mm: left edge of the first bar, base of the bars, module width and bar height. */
export function addBarcode(cover: Cover, x: number, y: number, module: number, tall: number): void {
  const bits = modules(number)
  for (let i = 0; i < bits.length; i++) {
    if (bits[i] !== '1') continue
    const guard = i < 3 || (i >= 45 && i < 50) || i >= 92
    const [x0, x1] = [x + i * module, x + (i + 1) * module]
    const y0 = y - (guard ? 5 * module : 0)
    // Slightly under half a pixel of overlap is left out, so that joined bars leave no light line between them.
    addShape(cover, [x0, y0, x1, y + tall], (px, py) => Math.max(x0 - px, px - x1, y0 - py, py - y - tall))
  }
  const size = 8.6 * module
  const digit = (text: string, at: number) =>
    addText(cover, { text, face: 'small', size, at: [x + at * module, y - size * 0.82], align: 'middle' })
  digit(number[0]!, -5)
  for (let i = 0; i < 6; i++) {
    digit(number[i + 1]!, 6.5 + 7 * i)
    digit(number[i + 7]!, 53.5 + 7 * i)
  }
}
