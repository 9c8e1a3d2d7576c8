import { BadInput } from '../../base/finding.ts'
import { PDFArray, type PDFDict, PDFRawStream } from '../../base/pdf.ts'
import type { Blending } from '../ink/mark.ts'
import { profileOf } from './color-cie.ts'
import { processOf } from './color-process.ts'
import { asName, items, look, numberOf } from './objects.ts'
import type { Light, Reading } from './reading.ts'

/**
 * The reading of what lies in an isolated group, whose colours may be blended in a space of their own; the same reading
 * where that is no other. A group that is not isolated has that of what lies around it, whatever it says.
 * Source: ISO 32000-2, 11.6.6, table 145.
 */
export function readingIn(reading: Reading, group: PDFDict | undefined): Reading {
  if (reading.aim !== 'inks') return reading
  const light = lightOf(reading, group)
  if (light === undefined || light === reading.light) return reading
  const known = readings.get(reading) ?? new Map<Light | null, Reading>()
  readings.set(reading, known)
  const inside = known.get(light) ?? { ...reading, light }
  known.set(light, inside)
  return inside
}

const readings = new WeakMap<Reading, Map<Light | null, Reading>>()

/** How colours of one reading become those of the other, which lies around it. */
export function blendingOf(inside: Reading, around: Reading): Blending {
  const { light } = inside
  const process = processOf(around)
  const own = light?.space ?? 'CMYK'
  const inks = processOf(inside).inks.length
  const turn = (amounts: Float32Array): Float32Array => {
    if (light === null) return process.cmyk(amounts)
    const values = amounts.map(lack => 1 - lack)
    return light.space === 'Gray' ? process.gray(values) : process.source(light, values)
  }
  return {
    own,
    outer: around.light?.space ?? 'CMYK',
    outward: (rows, from, to, out) => turnRuns(rows.slice(0, inks), from, to, out, turn),
  }
}

/** Turns colours, of neighbours that are alike only one. */
function turnRuns(
  rows: readonly Float32Array[],
  from: number,
  to: number,
  out: readonly Float32Array[],
  turn: (values: Float32Array) => Float32Array,
): void {
  const n = rows.length
  const starts = startsOf(rows, from, to)
  const count = starts.length
  const values = new Float32Array(n * count)
  for (const [k, row] of rows.entries()) for (let i = 0; i < count; i++) values[i * n + k] = row[starts[i]!]!
  const turned = turn(values)
  const m = out.length
  for (const [k, row] of out.entries())
    for (let i = 0; i < count; i++) {
      const start = starts[i]!
      const end = i + 1 < count ? starts[i + 1]! : to
      const value = turned[i * m + k]!
      if (end - start > 8) row.fill(value, start, end)
      else for (let x = start; x < end; x++) row[x] = value
    }
}

/** Columns that differ from the one before. */
function startsOf(rows: readonly Float32Array[], from: number, to: number): Int32Array {
  const begins = new Uint8Array(to - from).fill(1, 0, 1)
  for (const row of rows) for (let x = from + 1; x < to; x++) if (row[x] !== row[x - 1]) begins[x - from] = 1
  const starts = new Int32Array(to - from)
  let count = 0
  for (let x = from; x < to; x++) if (begins[x - from] === 1) starts[count++] = x
  return starts.subarray(0, count)
}

/** The light that a group names; null where it names inks, undefined where it names nothing that can be blended in. */
function lightOf(reading: Reading, group: PDFDict | undefined): Light | null | undefined {
  const space = look(group, 'CS')
  const [family, profile] = space instanceof PDFArray ? items(space) : [space]
  switch (asName(family)) {
    case 'DeviceCMYK':
      return null
    case 'DeviceRGB':
    case 'CalRGB':
      return sRgb
    case 'DeviceGray':
    case 'CalGray':
      return grey
    case 'ICCBased':
      return profile instanceof PDFRawStream ? ofProfile(reading, profile) : undefined
    default:
      return undefined
  }
}

const sRgb: Light = { space: 'RGB', profile: null }
const grey: Light = { space: 'Gray' }
const lights = new WeakMap<Uint8Array, Light>()

function ofProfile(reading: Reading, stream: PDFRawStream): Light | null | undefined {
  const found = profileOf(reading, stream, numberOf(stream.dict, 'N') ?? 0)
  if (typeof found === 'string') return undefined
  if (found.space === 'CMYK') return null
  if (found.space === 'Gray') return grey
  if (found.space === 'Lab') return undefined
  const known = lights.get(found.bytes) ?? usable(reading, { space: 'RGB', profile: found.bytes })
  lights.set(found.bytes, known)
  return known
}

/** A profile that nothing can be turned into is taken for sRGB, as one of an object is. */
function usable(reading: Reading, light: Light): Light {
  try {
    reading.separator.light({ space: 'Lab' }, light, new Float32Array(3))
    return light
  } catch (error) {
    if (error instanceof BadInput) return sRgb
    throw error
  }
}
