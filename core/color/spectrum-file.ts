import { BadInput } from '../base/finding.ts'
import { firstWavelength, lastWavelength, type SampledLight } from './spectrum.ts'

/** Widest step of a spectrum that is believed to show its lines, nm. */
const widestStep = 20
const mostValues = 8001
/** Part of a step by which written wavelengths may be off. */
const slack = 0.01

/**
 * A lamp's spectrum from a file: JSON, `{"startNm", "stepNm", "values"}`, pairs `[[nm, value], …]` or an object
 * `{"380": value, …}`; or text, a line a wavelength, `nm, value` parted by comma, semicolon, tab or blanks, with `#`
 * for remarks and words allowed in a first line. The scale is free.
 * Throws BadInput for anything that is no number, below 0, uneven in its steps, or does not cover what it must.
 * @param name   of the file
 * @param covers wavelengths that it must reach, nm; left out: 380–780
 */
export function parseSpectrum(
  text: string,
  name: string,
  covers: readonly [number, number] = [firstWavelength, lastWavelength],
): SampledLight {
  const pairs = /^\s*[[{]/.test(text) ? jsonPairs(text, name) : linePairs(text, name)
  return fromPairs(pairs, name, covers)
}

interface Pair {
  /** What the file says, and where. */
  readonly nm: number
  readonly value: number
  readonly where: string
}

function bad(name: string, where: string, message: string, fix: string): BadInput {
  return new BadInput('bad-spectrum', name, where, message, fix)
}

function linePairs(text: string, name: string): readonly Pair[] {
  const pairs: Pair[] = []
  for (const [i, raw] of text.split(/\r\n|\r|\n/).entries()) {
    const line = raw
      .replace(/#.*$/, '')
      .replace(/^\uFEFF/, '')
      .trim()
    if (line === '') continue
    const cells = cellsOf(line)
    const [nm, value] = cells.map(cell => numberIn(cell))
    const words = cells.every(cell => Number.isNaN(numberIn(cell)) && !/^\s*nan\s*$/i.test(cell))
    if (words && pairs.length === 0) continue
    pairs.push({
      nm: nm ?? Number.NaN,
      value: value ?? Number.NaN,
      where: `line ${i + 1}, "${line.slice(0, 40)}"`,
    })
    if (pairs.length > mostValues) break
  }
  if (pairs.length > 0) return pairs
  throw bad(name, 'whole file', 'holds no numbers', 'Give a wavelength in nm and a value on each line')
}

/** A comma between blanks or alone parts cells; beside a blank that does, it is a decimal one. */
function cellsOf(line: string): readonly string[] {
  for (const part of [/[;\t]/, /\s*,\s+|\s+,\s*|\s+/]) {
    const cells = line.split(part)
    if (cells.length > 1) return cells
  }
  return line.split(',')
}

/** A comma inside a cell is a decimal one: where it parts cells it is gone by now. */
const numberIn = (cell: string): number =>
  cell.trim() === '' ? Number.NaN : Number(cell.trim().replace(',', '.'))

function jsonPairs(text: string, name: string): readonly Pair[] {
  const parsed = parseJson(text, name)
  const pair = (nm: unknown, value: unknown, where: string): Pair => ({
    nm: typeof nm === 'number' ? nm : Number.NaN,
    value: typeof value === 'number' ? value : Number.NaN,
    where,
  })
  if (Array.isArray(parsed))
    return parsed.map((entry: unknown, i) =>
      Array.isArray(entry) ? pair(entry[0], entry[1], `pair ${i + 1}`) : pair(null, null, `entry ${i + 1}`),
    )
  const { startNm, stepNm, values } = parsed as Readonly<Record<string, unknown>>
  if (Array.isArray(values))
    return values.map((value: unknown, i) =>
      pair(Number(startNm) + i * Number(stepNm), value, `field "values", entry ${i + 1}`),
    )
  return Object.entries(parsed)
    .map(([nm, value]) => pair(numberIn(nm), value, `field "${nm}"`))
    .sort((a, b) => a.nm - b.nm)
}

function parseJson(text: string, name: string): object {
  try {
    return JSON.parse(text) as object
  } catch (error) {
    throw bad(
      name,
      'whole file',
      `is not JSON: ${error instanceof Error ? error.message : String(error)}`,
      'Mend the file, or give lines of wavelength and value',
    )
  }
}

function fromPairs(
  pairs: readonly Pair[],
  name: string,
  [from, to]: readonly [number, number],
): SampledLight {
  for (const { nm, value, where } of pairs) {
    if (!Number.isFinite(nm)) throw bad(name, where, 'has no wavelength in nm', 'Write a number there')
    if (!Number.isFinite(value)) throw bad(name, where, `has no value at ${nm} nm`, 'Write a number there')
    if (value < 0)
      throw bad(name, where, `has ${value} at ${nm} nm, but light is never below 0`, 'Write 0 or more')
  }
  if (pairs.length < 2 || pairs.length > mostValues)
    throw bad(
      name,
      'whole file',
      `has ${pairs.length > mostValues ? `more than ${mostValues}` : pairs.length} values`,
      `Give 2 to ${mostValues}`,
    )
  const first = pairs[0]!.nm
  const last = pairs.at(-1)!.nm
  const steps = pairs.slice(1).map((pair, i) => pair.nm - pairs[i]!.nm)
  const step = steps.toSorted((a, b) => a - b)[Math.floor(steps.length / 2)]!
  for (const [i, one] of steps.entries()) {
    const { where } = pairs[i + 1]!
    const [left, right] = [pairs[i]!.nm, pairs[i + 1]!.nm]
    if (one <= 0)
      throw bad(name, where, `${right} nm comes after ${left} nm`, 'Let the wavelengths rise, each once')
    if (Math.abs(one - step) > slack * step)
      throw bad(
        name,
        where,
        `${one > step ? 'a gap' : 'a smaller step'} from ${left} to ${right} nm, where the steps are ${step} nm`,
        'Give values at equal steps',
      )
  }
  if (first > from || last < to)
    throw bad(
      name,
      'whole file',
      `covers ${first} to ${last} nm, too little`,
      `Give values from ${from} nm or below up to ${to} nm or above`,
    )
  if (step > widestStep)
    throw bad(
      name,
      'whole file',
      `has steps of ${step} nm, too wide`,
      `Give steps of at most ${widestStep} nm`,
    )
  if (!pairs.some(({ nm, value }) => value > 0 && nm > firstWavelength && nm < lastWavelength))
    throw bad(name, 'whole file', 'has no light in the visible', 'Give a spectrum that is not all 0')
  return {
    startNm: first,
    stepNm: (last - first) / (pairs.length - 1),
    values: pairs.map(pair => pair.value),
  }
}
