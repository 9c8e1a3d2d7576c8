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
