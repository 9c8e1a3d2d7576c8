import { quietModules, widthsOf } from './bars.ts'
import { clearBeside } from './clear-beside.ts'
import { decodability } from './decodability.ts'
import type { DrawnSymbol } from './drawn-symbol.ts'
import { extremesOf } from './profile.ts'
import type { ScanLine } from './scan.ts'

/** What a decoder asks for beside right widths: contrast, of a perfect diffuser, and part of the light margin. Fitted to what one reads. */
const [leastContrast, leastQuiet] = [0.07, 0.5] as const

/** Whether a decoder makes the number of a symbol out of one line, whatever its grade. */
export function readable({ profile, stepMm, fromMm }: ScanLine, symbol: DrawnSymbol): boolean {
  const { kind, bars, frame, moduleMm } = symbol
  const widths = widthsOf(profile)
  if (widths === null || decodability(bars, widths) === null) return false
  const [least, most] = extremesOf(profile)
  if (most - least < leastContrast) return false
  const clear = clearBeside(profile, stepMm, fromMm, frame.lengthMm)
  const needs = quietModules(kind)
  return clear.every((mm, side) => mm >= leastQuiet * needs[side as 0 | 1] * moduleMm)
}
