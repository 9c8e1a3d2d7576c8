import type { CodeKind } from '../../base/code-reader.ts'
import { edgesOf, elementsOf, type ScanProfile } from './profile.ts'
import { type RetailKind, retailModules, retailShape } from './retail.ts'

/** Kinds of code that are bars. */
export type BarKind = Exclude<CodeKind, 'Data Matrix' | 'QR'>

/** A row of bars and spaces as it ought to be. */
export interface ExpectedBars {
  readonly kind: BarKind
  /** Widths in modules, the first bar first; a wide element of ITF has its own ratio. */
  readonly runs: readonly number[]
  /** Whole width, modules. */
  readonly modules: number
}

/** Light margins in modules, left and right in reading direction. */
export function quietModules(kind: CodeKind): readonly [left: number, right: number] {
  switch (kind) {
    case 'EAN-13':
    case 'EAN-8':
    case 'UPC-A':
      return [retailShape[kind].left, retailShape[kind].right]
    case 'UPC-E':
      // GS1 General Specifications, from memory.
      return [9, 7]
    case 'ITF':
    case 'Code 128':
      return [10, 10]
    case 'Data Matrix':
      return [1, 1]
    case 'QR':
      return [4, 4]
  }
}

/** Nominal, least and greatest module of a retail symbol, mm: 80 to 200 %. Source: national code bodies. */
export const retailModuleMm = { least: 0.264, nominal: 0.33, most: 0.66 } as const

/**
 * Bars of a symbol: a retail number's by its tables, of others as they are drawn. Null where the drawn bars are no
 * symbol of that kind.
 * @param drawn darkness of the art along a line, light is high; its light margins included
 */
export function expectedBars(kind: BarKind, text: string, drawn: ScanProfile): ExpectedBars | null {
  if (isRetail(kind)) {
    const runs = runsOf(retailModules(kind, text))
    return { kind, runs, modules: retailShape[kind].modules }
  }
  const widths = widthsOf(drawn)
  return widths === null ? null : drawnBars(kind, widths)
}

const isRetail = (kind: BarKind): kind is RetailKind =>
  kind === 'EAN-13' || kind === 'EAN-8' || kind === 'UPC-A'

/** Widths of bars and spaces between the first bar and the last, samples; null where a profile has fewer than two bars. */
export function widthsOf(profile: ScanProfile): readonly number[] | null {
  const elements = elementsOf(profile)
  const edges = edgesOf(profile, elements)
  const first = elements[0]?.kind === 'bar' ? 1 : 0
  const count = edges.length - first - (elements.at(-1)?.kind === 'bar' ? 1 : 0)
  if (count < 4) return null
  const used = edges.slice(first, first + count)
  return used.slice(1).map((edge, i) => edge - used[i]!)
}

function drawnBars(kind: Exclude<BarKind, RetailKind>, widths: readonly number[]): ExpectedBars | null {
  const whole = widths.reduce((sum, width) => sum + width, 0)
  switch (kind) {
    case 'UPC-E':
      // Guards of 3 and 6 elements of one module each, six digits of seven modules in four elements.
      return widths.length === 33 ? inModules(kind, widths, whole, 51) : null
    case 'Code 128': {
      // Eleven modules in six elements a character, the last character has two modules in one bar more.
      const characters = (widths.length - 1) / 6
      return Number.isInteger(characters) ? inModules(kind, widths, whole, 11 * characters + 2) : null
    }
    case 'ITF':
      return widths.length > 7 && (widths.length - 7) % 10 === 0 ? twoWidths(widths, whole) : null
  }
}

function inModules(
  kind: BarKind,
  widths: readonly number[],
  whole: number,
  modules: number,
): ExpectedBars | null {
  const runs = widths.map(width => Math.round((width * modules) / whole))
  return runs.reduce((sum, run) => sum + run, 0) === modules && runs.every(run => run > 0)
    ? { kind, runs, modules }
    : null
}

function twoWidths(widths: readonly number[], whole: number): ExpectedBars {
  const middle = (Math.min(...widths) + Math.max(...widths)) / 2
  const narrow = widths.filter(width => width < middle)
  const wide = widths.filter(width => width >= middle)
  const mean = (all: readonly number[]) => all.reduce((sum, width) => sum + width, 0) / all.length
  const ratio = mean(wide) / mean(narrow)
  return {
    kind: 'ITF',
    runs: widths.map(width => (width < middle ? 1 : ratio)),
    modules: whole / mean(narrow),
  }
}

/** Lengths of equal characters in a row. */
export function runsOf(modules: string): readonly number[] {
  return (modules.match(/1+|0+/g) ?? []).map(run => run.length)
}
