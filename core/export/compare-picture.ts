import type { PngPicture } from '../base/png.ts'
import { apartColor, type DifferenceNumbers, differenceSteps } from './light-difference.ts'
import { textWidth, write } from './stills/lettering.ts'

/** Two pictures and their difference: RGB, 8 bits, row by row, all of one size. */
export interface ComparedPanels {
  readonly width: number
  readonly height: number
  readonly a: Uint8Array
  readonly b: Uint8Array
  readonly difference: Uint8Array
}

/** Grey of the sheet and of what is written on it; sRGB, 0..255. */
const ground = 42
const ink = [228, 228, 228] as const

/** A, B and what differs, side by side, with the legend of the difference and its numbers below. */
export function comparePicture(panels: ComparedPanels, numbers: DifferenceNumbers): PngPicture {
  const { width, height } = panels
  const letter = Math.max(9, Math.min(30, Math.round(Math.min(width, height) / 22)))
  const gap = letter
  const top = 3 * letter
  const wide = 3 * width + 4 * gap
  const lines = numberLines(numbers)
  const below = Math.ceil((1.5 + 2 * lines.length) * letter)
  const sheet = {
    width: wide,
    height: top + height + below,
    channels: 3 as const,
    data: new Uint8Array(3 * wide * (top + height + below)).fill(ground),
  }
  for (const [i, [name, rgb]] of [
    ['A', panels.a] as const,
    ['B', panels.b] as const,
    ['ΔE00', panels.difference] as const,
  ].entries()) {
    const left = gap + i * (width + gap)
    write(sheet, name, left, 2 * letter, letter, ink)
    for (let row = 0; row < height; row++)
      sheet.data.set(rgb.subarray(3 * row * width, 3 * (row + 1) * width), 3 * ((top + row) * wide + left))
  }
  const under = top + height + letter
  drawLegend(sheet, gap + 2 * (width + gap), under, width, letter)
  for (const [i, text] of lines.entries()) write(sheet, text, gap, under + (1 + 2 * i) * letter, letter, ink)
  return sheet
}

/** As few signs as say it: the lettering has no more. */
function numberLines(numbers: DifferenceNumbers): readonly string[] {
  const { above1, above2, above5, mean, max } = numbers
  return [
    `>1  ${percent(above1)}    >2  ${percent(above2)}    >5  ${percent(above5)}`,
    `mean  ${mean.toFixed(2)}    max  ${max.toFixed(1)}`,
  ]
}

const percent = (part: number): string => `${(100 * part).toFixed(1)} %`

/** Boxes of the steps' colours from left to right, the value where each begins below its left edge. */
function drawLegend(
  sheet: PngPicture & { readonly data: Uint8Array },
  left: number,
  top: number,
  width: number,
  letter: number,
): void {
  const boxes = [...differenceSteps.map(step => step.color), apartColor]
  const wide = Math.floor(width / boxes.length)
  for (const [i, color] of boxes.entries()) {
    for (let y = top; y < top + letter; y++)
      for (let x = left + i * wide; x < left + (i + 1) * wide - 2; x++)
        sheet.data.set(color, 3 * (y * sheet.width + x))
    const step = differenceSteps[i]
    const text = step === undefined ? 'in 1' : String(step.from)
    if (textWidth(text, letter) < wide) write(sheet, text, left + i * wide, top + 2.6 * letter, letter, ink)
  }
}
