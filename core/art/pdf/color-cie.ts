import { type PDFDict, type PDFObject, PDFRawStream } from '../../base/pdf.ts'
import { adaptation } from '../../color/adapt.ts'
import { labToXyz, xyzToLab } from '../../color/lab.ts'
import { apply } from '../../color/matrix.ts'
import { readProfileHeader } from '../../color/profile-header.ts'
import { encode } from '../../color/rgb.ts'
import { whiteD50, type XYZ } from '../../color/xyz.ts'
import { badSpace, clip01, makeSpace, tellOnce } from './color-kit.ts'
import { processOf } from './color-process.ts'
import { asDict, look, numberOf, numbersOf } from './objects.ts'
import type { ColorSource, ColorSpace, Reading } from './reading.ts'
import { streamData } from './stream.ts'

// Colour spaces that say what a colour looks like. Source: ISO 32000-2, 8.6.5.

/** CalGray: A^gamma is light. It prints with black alone, as grey of the device does, coded as screens do. */
export function openCalGray(reading: Reading, dict: PDFDict | undefined): ColorSpace {
  const gamma = positive(numberOf(dict, 'Gamma'), 1)
  const process = processOf(reading)
  const grey = (value: number) => encode(clip01(value) ** gamma)
  return makeSpace({
    components: 1,
    initial: [0],
    inks: process.inks,
    manyTints: values => process.gray(values.map(grey)),
    inkColor: values => ({ space: 'Gray', values: [grey(values[0] ?? 0)] }),
  })
}

/** CalRGB: light of each by its own gamma, summed by a matrix of XYZ. */
export function openCalRgb(reading: Reading, dict: PDFDict | undefined): ColorSpace {
  const gammas = [0, 1, 2].map(i => positive(numbersOf(dict, 'Gamma')?.[i], 1))
  const given = numbersOf(dict, 'Matrix')
  const matrix = given !== undefined && given.length === 9 ? given : [1, 0, 0, 0, 1, 0, 0, 0, 1]
  const adapt = adaptation(whiteOf(reading, dict, 'CalRGB'), whiteD50)
  const labOf = (values: ArrayLike<number>, at: number) => {
    const light = gammas.map((gamma, i) => clip01(values[at + i]!) ** gamma)
    const sum = (row: number) =>
      light[0]! * matrix[row]! + light[1]! * matrix[3 + row]! + light[2]! * matrix[6 + row]!
    return xyzToLab(apply(adapt, [sum(0), sum(1), sum(2)]), whiteD50)
  }
  return measured(reading, labOf, undefined)
}

/** Lab under a white of its own, which is taken for D50's. */
export function openLab(reading: Reading, dict: PDFDict | undefined): ColorSpace {
  const white = whiteOf(reading, dict, 'Lab')
  const given = numbersOf(dict, 'Range')
  const range = [0, 100, ...(given !== undefined && given.length === 4 ? given : [-100, 100, -100, 100])]
  const adapt = adaptation(white, whiteD50)
  const labOf = (values: ArrayLike<number>, at: number) => {
    const lab = [0, 1, 2].map(i => between(values[at + i]!, range[2 * i]!, range[2 * i + 1]!))
    return xyzToLab(apply(adapt, labToXyz([lab[0]!, lab[1]!, lab[2]!], white)), whiteD50)
  }
  return measured(reading, labOf, range)
}

/** A space whose colours are known as Lab under D50. */
function measured(
  reading: Reading,
  labOf: (values: ArrayLike<number>, at: number) => readonly [number, number, number],
  range: readonly number[] | undefined,
): ColorSpace {
  const components = 3
  const process = processOf(reading)
  return makeSpace({
    components,
    initial: Array.from({ length: components }, (_, i) =>
      range === undefined ? 0 : between(0, range[2 * i]!, range[2 * i + 1]!),
    ),
    ...(range === undefined ? {} : { decode: () => range }),
    inks: process.inks,
    manyTints: values => {
      const count = values.length / components
      const labs = new Float32Array(3 * count)
      for (let i = 0; i < count; i++) labs.set(labOf(values, i * components), 3 * i)
      return process.source({ space: 'Lab' }, labs)
    },
    inkColor: values => ({ space: 'Lab', values: [...labOf(values, 0)] }),
  })
}

const between = (value: number, low: number, high: number): number => Math.min(high, Math.max(low, value))
const positive = (value: number | undefined, usual: number): number =>
  value !== undefined && value > 0 ? value : usual

function whiteOf(reading: Reading, dict: PDFDict | undefined, name: string): XYZ {
  const white = numbersOf(dict, 'WhitePoint')
  if (white === undefined || white.length !== 3 || white.some(value => value <= 0))
    throw badSpace(reading, `colour space ${name}`, 'it has no white point')
  return [white[0]!, white[1]!, white[2]!]
}

const largestProfile = 1 << 26

/**
 * ICCBased. Of CMYK and of grey the numbers are kept: they are amounts of ink already. What cannot be used is told, and
 * its alternate taken, or the device's space of as many components.
 * @param open opens the alternate
 */
export function openIccBased(
  reading: Reading,
  stream: PDFObject | undefined,
  open: (space: PDFObject) => ColorSpace,
  device: (components: number) => ColorSpace,
): ColorSpace {
  const where = 'colour space ICCBased'
  const dict = asDict(stream)
  const components = numberOf(dict, 'N')
  if (!(stream instanceof PDFRawStream) || (components !== 1 && components !== 3 && components !== 4))
    throw badSpace(reading, where, `it has ${components ?? 'no'} components instead of 1, 3 or 4`)
  const profile = profileOf(reading, stream, components)
  if (typeof profile === 'string') {
    tellOnce(reading, {
      severity: 'warning',
      code: 'pdf-profile-unusable',
      where,
      message: `A colour profile of ${components} components ${profile}; its colours are read without it.`,
      fix: 'Save the file again with the profile that its colours are made for',
    })
    const alternate = look(dict, 'Alternate')
    const opened = alternate === undefined ? null : open(alternate)
    return opened !== null && opened.components === components && opened.family !== 'Pattern'
      ? opened
      : device(components)
  }
  if (profile.space === 'CMYK') return numbersKept(reading, profile.bytes, device(4))
  if (profile.space === 'Gray') {
    tellKept(
      reading,
      'pdf-grey-profile',
      'Grey with a profile: it prints with black alone, in its own numbers.',
    )
    return device(1)
  }
  const process = processOf(reading)
  const { space, bytes } = profile
  const source: ColorSource = space === 'Lab' ? { space } : { space, profile: bytes }
  const limits = rangeOf(dict, components) ?? (space === 'Lab' ? [0, 100, -128, 127, -128, 127] : undefined)
  return makeSpace({
    components,
    initial: Array.from({ length: components }, (_, i) =>
      between(0, limits?.[2 * i] ?? 0, limits?.[2 * i + 1] ?? 1),
    ),
    ...(limits === undefined ? {} : { decode: () => limits }),
    inks: process.inks,
    manyTints: values => process.source(source, source.space === 'Lab' ? values : values.map(clip01)),
    inkColor: values => ({ space, values: values.slice(0, components) }),
  })
}

function rangeOf(dict: PDFDict | undefined, components: number): readonly number[] | undefined {
  const range = numbersOf(dict, 'Range')
  return range !== undefined && range.length === 2 * components ? range : undefined
}

/** Of inks: zeros may overprint where the profile is that of the print condition itself. */
function numbersKept(reading: Reading, profile: Uint8Array, device: ColorSpace): ColorSpace {
  const asInks = reading.aim === 'inks' && reading.light === null
  if (asInks && sameBytes(profile, reading.separator.profile)) return { ...device, family: 'DeviceCMYK' }
  tellKept(
    reading,
    'pdf-cmyk-profile',
    'CMYK with a profile of its own: its numbers are taken as amounts of ink, as they are.',
  )
  return { ...device, family: 'other' }
}

function tellKept(reading: Reading, code: string, message: string): void {
  if (reading.aim !== 'inks') return
  tellOnce(reading, {
    severity: 'note',
    code,
    where: 'colour space ICCBased',
    message,
    fix: 'If it was made for another print condition, convert it before the page is saved',
  })
}

const sameBytes = (a: Uint8Array, b: Uint8Array): boolean =>
  a.length === b.length && a.every((byte, i) => byte === b[i])

interface Profile {
  readonly bytes: Uint8Array
  readonly space: 'RGB' | 'Gray' | 'Lab' | 'CMYK'
}

/** By their streams: the same profile again is the same array, which transforms are kept by. */
const profiles = new WeakMap<PDFRawStream, Profile | string>()

/** The profile, or what is wrong with it, to stand after "a profile". */
export function profileOf(reading: Reading, stream: PDFRawStream, components: number): Profile | string {
  const known = profiles.get(stream)
  if (known !== undefined) return known
  const found = readProfile(reading, stream, components)
  profiles.set(stream, found)
  return found
}

const spaces: Readonly<Record<string, { readonly space: Profile['space']; readonly components: number }>> = {
  GRAY: { space: 'Gray', components: 1 },
  'RGB ': { space: 'RGB', components: 3 },
  'Lab ': { space: 'Lab', components: 3 },
  CMYK: { space: 'CMYK', components: 4 },
}

function readProfile(reading: Reading, stream: PDFRawStream, components: number): Profile | string {
  try {
    const { bytes } = streamData(reading.file, stream, largestProfile, 'colour profile')
    const { space } = readProfileHeader(bytes, reading.file, '')
    const known = spaces[space]
    if (known === undefined || known.components !== components)
      return `stands for ${space.trim() || 'no colour space'}`
    return { bytes, space: known.space }
  } catch {
    return 'cannot be read'
  }
}
