import { checkDigit, retailModules } from '../core/checks/codes/retail.ts'
import { addText } from './lettering.ts'
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
export function addBarcode(cover: Cover, x: number, y: number, module: number, tall: number): void {
  let at = 0
  for (const run of runsOf(modules(number))) {
    const [from, to] = [at, at + run.length]
    at = to
    if (run[0] === '0') continue
    const guard = to <= 3 || (from >= 45 && to <= 50) || from >= 92
    const [x0, x1] = [x + from * module, x + to * module]
    const y0 = y - (guard ? 5 * module : 0)
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
