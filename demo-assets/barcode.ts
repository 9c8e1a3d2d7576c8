import { checkDigit, retailModules } from '../core/checks/codes/retail.ts'
import { addText, type Line } from './lettering.ts'
import { addShape, type Cover } from './page.ts'

/** The code's number for the demo: prefix 20 is free for use inside a company. */
export const number = withCheck('201234560012')

export function withCheck(twelve: string): string {
  return `${twelve}${checkDigit(twelve)}`
}

/** 95 modules, `1` is a bar. */
export function modules(thirteen: string): string {
  return retailModules('EAN-13', thirteen)
}

const runsOf = (bits: string): readonly string[] => bits.match(/1+|0+/g) ?? []

/** Bars and digits, mm: left edge of the first bar, base of the bars, module width and bar height. */
export function barcodeShapes(
  x: number,
  y: number,
  module: number,
  tall: number,
): {
  /** Left, bottom, right, top. */
  readonly bars: readonly (readonly [number, number, number, number])[]
  readonly digits: readonly Line[]
} {
  const bars: [number, number, number, number][] = []
  let at = 0
  for (const run of runsOf(modules(number))) {
    const [from, to] = [at, at + run.length]
    at = to
    if (run[0] === '0') continue
    const guard = to <= 3 || (from >= 45 && to <= 50) || from >= 92
    bars.push([x + from * module, y - (guard ? 5 * module : 0), x + to * module, y + tall])
  }
  const size = 8.6 * module
  const digit = (text: string, at: number): Line => ({
    text,
    face: 'small',
    size,
    at: [x + at * module, y - size * 0.82],
    align: 'middle',
  })
  const digits = [digit(number[0]!, -5)]
  for (let i = 0; i < 6; i++)
    digits.push(digit(number[i + 1]!, 6.5 + 7 * i), digit(number[i + 7]!, 53.5 + 7 * i))
  return { bars, digits }
}

export function addBarcode(cover: Cover, x: number, y: number, module: number, tall: number): void {
  const { bars, digits } = barcodeShapes(x, y, module, tall)
  for (const [x0, y0, x1, y1] of bars)
    addShape(cover, [x0, y0, x1, y1], (px, py) => Math.max(x0 - px, px - x1, y0 - py, py - y1))
  for (const line of digits) addText(cover, line)
}
