import { BadInput } from '../../base/finding.ts'
import { PDFArray, type PDFDict, type PDFObject, PDFRawStream } from '../../base/pdf.ts'
import { compileCalculator } from './function-calculator.ts'
import { mostSamples, type Sampled, sampledAt, samplesOf } from './function-sampled.ts'
import { arrayOf, asDict, numberOf, numbersOf } from './objects.ts'
import { streamData } from './stream.ts'

/** A function of a PDF file: numbers to numbers, always finite. */
export interface PdfFunction {
  readonly inputs: number
  readonly outputs: number
  /**
   * Values at a point, written to `out` (at least `outputs` long) from `at` on (usual: 0), which is returned. Inputs are
   * clipped to the domain, results to the range.
   */
  readonly run: (input: ArrayLike<number>, out: Float64Array, at?: number) => Float64Array
}

/**
 * Opens a function dictionary or stream of type 0, 2, 3 or 4; an array of functions is one with all their results.
 * Throws BadInput. Source: ISO 32000-2, 7.10.
 * @param subject file name; @param where what uses it, for messages
 */
export function openFunction(object: PDFObject | undefined, subject: string, where: string): PdfFunction {
  return opened(object, { subject, where, depth: 0, budget: { left: mostParts } })
}

interface Place {
  readonly subject: string
  readonly where: string
  readonly depth: number
  /** Functions that may still be opened for this one. */
  readonly budget: { left: number }
}

const deepest = 16
const mostParts = 4096
const mostResults = 64
/** Bytes that may stand behind the samples. */
const slack = 65536
const programLimit = 1 << 16

function refuse({ subject, where }: Place, problem: string): BadInput {
  return new BadInput(
    'pdf-function',
    subject,
    where,
    `its function ${problem}`,
    'Save the file again, or take this object out',
  )
}

function opened(object: PDFObject | undefined, place: Place): PdfFunction {
  if (place.depth > deepest) throw refuse(place, `holds functions more than ${deepest} deep`)
  if (place.budget.left-- === 0) throw refuse(place, `holds too many functions, more than ${mostParts}`)
  if (object instanceof PDFArray) return joined(object, place)
  const dict = asDict(object)
  if (dict === undefined) throw refuse(place, 'is missing')
  const domain = numbersOf(dict, 'Domain')
  if (domain === undefined || domain.length === 0 || domain.length % 2 === 1)
    throw refuse(place, 'has no domain')
  const range = numbersOf(dict, 'Range')
  const type = numberOf(dict, 'FunctionType')
  const bounded = (outputs: number, run: PdfFunction['run']) => bound(domain, range, outputs, run)
  switch (type) {
    case 0: {
      const sampled = sampledOf(object, dict, domain, range, place)
      return bounded(sampled.outputs, (input, out, at = 0) => sampledAt(sampled, input, out, at))
    }
    case 2:
      return exponential(dict, bounded, place)
    case 3:
      return stitched(dict, domain, bounded, place)
    case 4: {
      if (range === undefined || range.length < 2) throw refuse(place, 'of type 4 has no range')
      if (!(object instanceof PDFRawStream)) throw refuse(place, 'of type 4 has no program')
      const outputs = range.length / 2
      const text = String.fromCharCode(...streamData(place.subject, object, programLimit, place.where).bytes)
      const run = compileCalculator(text, domain.length / 2, outputs, problem => refuse(place, problem))
      return bounded(outputs, run)
    }
    default:
      throw refuse(place, `is of type ${type ?? 'unknown'}, not 0, 2, 3 or 4`)
  }
}

/** Functions of the same input, their results one after another. */
function joined(array: PDFArray, place: Place): PdfFunction {
  if (array.size() === 0 || array.size() > mostResults)
    throw refuse(place, `is a list of ${array.size()}, not of 1 to ${mostResults}`)
  const parts = Array.from({ length: array.size() }, (_, i) =>
    opened(array.lookup(i), { ...place, depth: place.depth + 1 }),
  )
  const inputs = parts[0]!.inputs
  if (parts.some(part => part.inputs !== inputs)) throw refuse(place, 'is a list of unlike functions')
  const outputs = parts.reduce((sum, part) => sum + part.outputs, 0)
  if (outputs > mostResults) throw refuse(place, `has ${outputs} results`)
  return {
    inputs,
    outputs,
    run: (input, out, at = 0) => {
      let next = at
      for (const part of parts) {
        part.run(input, out, next)
        next += part.outputs
      }
      return out
    },
  }
}

/** Clips what goes in and what comes out; what is no number becomes 0. */
function bound(
  domain: readonly number[],
  range: readonly number[] | undefined,
  outputs: number,
  run: PdfFunction['run'],
): PdfFunction {
  const inputs = domain.length / 2
  const clipped = new Float64Array(inputs)
  const limits = range !== undefined && range.length >= 2 * outputs ? range : null
  return {
    inputs,
    outputs,
    run: (input, out, at = 0) => {
      for (let i = 0; i < inputs; i++) clipped[i] = clip(input[i] ?? 0, domain[2 * i]!, domain[2 * i + 1]!)
      run(clipped, out, at)
      for (let i = 0; i < outputs; i++) {
        const value = out[at + i]!
        const known = Number.isFinite(value) ? value : 0
        out[at + i] = limits === null ? known : clip(known, limits[2 * i]!, limits[2 * i + 1]!)
      }
      return out
    },
  }
}

const clip = (value: number, low: number, high: number): number =>
  value > high ? high : value < low ? low : Number.isNaN(value) ? low : value

type Bounded = (outputs: number, run: PdfFunction['run']) => PdfFunction

/** Type 2: C0 + x^N (C1 − C0). */
function exponential(dict: PDFDict, bounded: Bounded, place: Place): PdfFunction {
  const c0 = numbersOf(dict, 'C0') ?? [0]
  const c1 = numbersOf(dict, 'C1') ?? [1]
  const exponent = numberOf(dict, 'N')
  if (exponent === undefined || c0.length !== c1.length || c0.length === 0 || c0.length > mostResults)
    throw refuse(place, `of type 2 has ${c0.length} and ${c1.length} ends and exponent ${exponent ?? 'none'}`)
  return bounded(c0.length, (input, out, at = 0) => {
    const power = exponent === 1 ? input[0]! : input[0]! ** exponent
    const share = Number.isFinite(power) ? power : 0
    for (let i = 0; i < c0.length; i++) out[at + i] = c0[i]! + share * (c1[i]! - c0[i]!)
    return out
  })
}

/** Type 3: its parts one after another along the domain. */
function stitched(dict: PDFDict, domain: readonly number[], bounded: Bounded, place: Place): PdfFunction {
  const list = arrayOf(dict, 'Functions')
  const bounds = numbersOf(dict, 'Bounds')
  const encode = numbersOf(dict, 'Encode')
  const count = list?.size() ?? 0
  if (list === undefined || count === 0 || count > mostParts)
    throw refuse(place, `of type 3 has ${count} parts, not 1 to ${mostParts}`)
  if (
    bounds === undefined ||
    bounds.length !== count - 1 ||
    encode === undefined ||
    encode.length < 2 * count
  )
    throw refuse(place, `of type 3 has ${count} parts, but not their bounds and encodings`)
  const parts = Array.from({ length: count }, (_, i) =>
    opened(list.lookup(i), { ...place, depth: place.depth + 1 }),
  )
  const outputs = parts[0]!.outputs
  if (parts.some(part => part.inputs !== 1 || part.outputs !== outputs))
    throw refuse(place, 'of type 3 has unlike parts')
  const inner = new Float64Array(1)
  return bounded(outputs, (input, out, at = 0) => {
    const x = input[0]!
    let k = 0
    while (k < count - 1 && x >= bounds[k]!) k++
    const low = k === 0 ? domain[0]! : bounds[k - 1]!
    const high = k === count - 1 ? domain[1]! : bounds[k]!
    const from = encode[2 * k]!
    inner[0] = high === low ? from : from + ((x - low) * (encode[2 * k + 1]! - from)) / (high - low)
    return parts[k]!.run(inner, out, at)
  })
}

/** A table costs as much as many functions: all together stay within what one may take. */
function sampledOf(
  object: PDFObject | undefined,
  dict: PDFDict,
  domain: readonly number[],
  range: readonly number[] | undefined,
  place: Place,
): Sampled {
  if (range === undefined || range.length < 2) throw refuse(place, 'of type 0 has no range')
  if (!(object instanceof PDFRawStream)) throw refuse(place, 'of type 0 has no samples')
  const result = samplesOf({
    domain,
    range,
    size: numbersOf(dict, 'Size') ?? [],
    bits: numberOf(dict, 'BitsPerSample') ?? 0,
    encode: numbersOf(dict, 'Encode'),
    decode: numbersOf(dict, 'Decode'),
    bytes: length => streamData(place.subject, object, length + slack, place.where).bytes,
  })
  if (typeof result === 'string') throw refuse(place, result)
  place.budget.left = Math.max(
    0,
    place.budget.left - Math.floor((mostParts * result.values.length) / mostSamples),
  )
  return result
}
