/**
 * Retail numbers and their bars: EAN-13, EAN-8, UPC-A. Symbol tables of the GS1 General Specifications, section 5.2.1, held to a printed example; sizes as
 * national code bodies list them.
 */

export type RetailKind = 'EAN-13' | 'EAN-8' | 'UPC-A'

/** Width of seven modules as dark (1) and light (0), left half odd parity; even parity is its mirror image inverted. */
const oddLeft = [
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
] as const

/** Parity of the left digits says the first digit of EAN-13: O odd, E even. */
const firstDigit = [
  'OOOOOO',
  'OOEOEE',
  'OOEEOE',
  'OOEEEO',
  'OEOOEE',
  'OEEOOE',
  'OEEEOO',
  'OEOEOE',
  'OEOEEO',
  'OEEOEO',
] as const

/** Nominal module, mm, and what a symbol needs in modules: data, then light margin left and right. */
export const nominalModuleMm = 0.33
export const retailShape = {
  'EAN-13': { modules: 95, left: 11, right: 7, heightMm: 22.85 },
  'UPC-A': { modules: 95, left: 9, right: 9, heightMm: 22.85 },
  'EAN-8': { modules: 67, left: 7, right: 7, heightMm: 18.23 },
} as const satisfies Record<RetailKind, unknown>

/** Whole width with its light margins, mm. */
export function retailWidthMm(kind: RetailKind, moduleMm: number): number {
  const { modules, left, right } = retailShape[kind]
  return (modules + left + right) * moduleMm
}

/**
 * The last digit of a retail number: digits from the right weigh 3, 1, 3, … and the sum is filled up to tens.
 * Throws RangeError for anything but digits.
 */
export function checkDigit(withoutIt: string): number {
  if (!/^\d+$/.test(withoutIt)) throw new RangeError(`check digit: expected digits, got "${withoutIt}"`)
  const sum = [...withoutIt]
    .reverse()
    .reduce((all, digit, i) => all + Number(digit) * (i % 2 === 0 ? 3 : 1), 0)
  return (10 - (sum % 10)) % 10
}

/**
 * Modules of a symbol from its first bar to its last, 1 dark and 0 light.
 * Throws RangeError for a number of the wrong length or with a wrong check digit.
 */
export function retailModules(kind: RetailKind, number: string): string {
  const length = { 'EAN-13': 13, 'EAN-8': 8, 'UPC-A': 12 }[kind]
  if (number.length !== length || checkDigit(number.slice(0, -1)) !== Number(number.at(-1)))
    throw new RangeError(`${kind}: expected ${length} digits with their check digit, got "${number}"`)
  const digits = [...(kind === 'UPC-A' ? `0${number}` : number)].map(Number)
  const first = kind === 'EAN-8' ? null : digits.shift()!
  const half = digits.length / 2
  const parity = first === null ? 'OOOO' : firstDigit[first]!
  const left = digits.slice(0, half).map((digit, i) => (parity[i] === 'O' ? odd(digit) : even(digit)))
  const right = digits.slice(half).map(digit => inverted(odd(digit)))
  return `101${left.join('')}01010${right.join('')}101`
}

const odd = (digit: number): string => oddLeft[digit]!
const even = (digit: number): string => inverted([...odd(digit)].reverse().join(''))
const inverted = (modules: string): string =>
  [...modules].map(module => (module === '1' ? '0' : '1')).join('')
