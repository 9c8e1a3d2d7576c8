import {
  PDFArray,
  type PDFDict,
  PDFHexString,
  PDFName,
  type PDFObject,
  PDFRawStream,
  PDFString,
} from '../../base/pdf.ts'
import { openCalGray, openCalRgb, openIccBased, openLab } from './color-cie.ts'
import { openDeviceN, openSeparation } from './color-ink.ts'
import { badSpace, makeSpace } from './color-kit.ts'
import { processOf } from './color-process.ts'
import { asDict, asName, asNumber, dictOf, look } from './objects.ts'
import type { ColorSpace, OpenColorSpace, Reading } from './reading.ts'
import { streamData } from './stream.ts'

/**
 * Opens a colour space: a device's, which the page's resources may replace, one that they name, or an array. The same
 * array is opened once a reading. Throws BadInput `pdf-colour-space`. Source: ISO 32000-2, 8.6.
 */
export const openColorSpace: OpenColorSpace = (reading, object, resources) =>
  opened({ reading, resources }, object, 0)

interface Place {
  readonly reading: Reading
  readonly resources: PDFDict | null
}

const deepest = 8
const keptSpaces = new WeakMap<Reading, Map<PDFArray, ColorSpace>>()

function opened(place: Place, object: PDFObject, depth: number): ColorSpace {
  const { reading } = place
  if (depth > deepest) throw badSpace(reading, 'colour space', `it holds others more than ${deepest} deep`)
  const space = reading.context.lookup(object)
  if (space instanceof PDFName) return ofName(place, asName(space) ?? '', depth)
  if (!(space instanceof PDFArray))
    throw badSpace(reading, 'colour space', 'it is neither a name nor an array')
  const kept = keptSpaces.get(reading) ?? new Map<PDFArray, ColorSpace>()
  keptSpaces.set(reading, kept)
  const known = kept.get(space)
  if (known !== undefined) return known
  const made = ofArray(place, space, depth)
  kept.set(space, made)
  return made
}

function ofName(place: Place, name: string, depth: number): ColorSpace {
  const { reading, resources } = place
  const spaces = dictOf(resources ?? undefined, 'ColorSpace')
  switch (name) {
    case 'DeviceGray':
    case 'G':
      return replaced(place, spaces, 'DefaultGray', 1, depth) ?? device(reading, 1)
    case 'DeviceRGB':
    case 'RGB':
      return replaced(place, spaces, 'DefaultRGB', 3, depth) ?? device(reading, 3)
    case 'DeviceCMYK':
    case 'CMYK':
      return replaced(place, spaces, 'DefaultCMYK', 4, depth) ?? device(reading, 4)
    case 'Pattern':
      return pattern(null)
    default: {
      const named = look(spaces, name)
      if (named === undefined || (named instanceof PDFName && named === PDFName.of(name)))
        throw badSpace(reading, `colour space "${name}"`, 'it is not among the resources of the page')
      return opened(place, named, depth + 1)
    }
  }
}

/** A space that the resources put in a device's place; one of other components cannot be meant. */
function replaced(
  place: Place,
  spaces: PDFDict | undefined,
  key: string,
  components: number,
  depth: number,
): ColorSpace | null {
  const given = look(spaces, key)
  // The default is never looked for again below itself.
  if (given === undefined || given instanceof PDFName) return null
  const space = opened({ reading: place.reading, resources: null }, given, depth + 1)
  return space.components === components && space.family !== 'Pattern' && space.family !== 'Indexed'
    ? space
    : null
}

function ofArray(place: Place, space: PDFArray, depth: number): ColorSpace {
  const { reading } = place
  const open = (inner: PDFObject): ColorSpace => {
    const found = opened(place, inner, depth + 1)
    if (found.family === 'Pattern')
      throw badSpace(reading, 'colour space', 'it is made of patterns where colours are needed')
    return found
  }
  const name = asName(space.lookup(0)) ?? ''
  switch (name) {
    case 'CalGray':
      return openCalGray(reading, asDict(space.lookup(1)))
    case 'CalRGB':
      return openCalRgb(reading, asDict(space.lookup(1)))
    case 'Lab':
      return openLab(reading, asDict(space.lookup(1)))
    case 'ICCBased':
      return openIccBased(reading, space.lookup(1), open, components => device(reading, components))
    case 'Separation':
      return openSeparation(reading, space, open)
    case 'DeviceN':
      return openDeviceN(reading, space, open)
    case 'Indexed':
    case 'I':
      return openIndexed(reading, space, open)
    case 'Pattern': {
      const under = space.get(1)
      return pattern(under === undefined ? null : open(under))
    }
    default:
      if (space.size() === 1) return ofName(place, name, depth + 1)
      throw badSpace(reading, `colour space "${name}"`, 'it is none of the standard')
  }
}

/** A device's own space, by its components. Source: ISO 32000-2, 8.6.4. */
function device(reading: Reading, components: number): ColorSpace {
  const process = processOf(reading)
  const { inks } = process
  if (components === 1)
    return makeSpace({
      components,
      initial: [0],
      inks,
      manyTints: process.gray,
      inkColor: values => ({ space: 'Gray', values: values.slice(0, 1) }),
    })
  if (components === 3)
    return makeSpace({
      components,
      initial: [0, 0, 0],
      inks,
      manyTints: values => process.source({ space: 'RGB', profile: null }, values),
      inkColor: values => ({ space: 'RGB', values: values.slice(0, 3) }),
    })
  return makeSpace({
    family: process.inks.length === 4 ? 'DeviceCMYK' : 'other',
    components: 4,
    initial: [0, 0, 0, 1],
    inks,
    manyTints: process.cmyk,
    direct: process.inks.length === 4 ? [0, 1, 2, 3] : null,
    inkColor: values => ({ space: 'CMYK', values: values.slice(0, 4) }),
  })
}

const pattern = (under: ColorSpace | null): ColorSpace =>
  makeSpace({
    family: 'Pattern',
    components: under?.components ?? 0,
    initial: under?.initial ?? [],
    inks: under?.inks ?? [],
    manyTints: values => under?.manyTints(values) ?? new Float32Array(0),
    inkColor: () => ({ space: 'other', values: [] }),
    under,
  })

/** Colours by number. Source: ISO 32000-2, 8.6.6.3. */
function openIndexed(reading: Reading, space: PDFArray, open: (space: PDFObject) => ColorSpace): ColorSpace {
  const where = 'colour space Indexed'
  const baseObject = space.get(1)
  const high = asNumber(space.lookup(2))
  if (baseObject === undefined || high === undefined || high < 0 || high > 255)
    throw badSpace(reading, where, `its last colour is ${high ?? 'not said'}, not 0 to 255`)
  const base = open(baseObject)
  if (base.family === 'Indexed') throw badSpace(reading, where, 'it is based on another Indexed')
  const count = Math.floor(high) + 1
  const bytes = lookupBytes(reading, space.lookup(3), count * base.components)
  const limits = base.decode(8)
  const colors = new Float32Array(count * base.components)
  for (let i = 0; i < colors.length; i++) {
    const c = i % base.components
    const low = limits[2 * c]!
    colors[i] = low + ((bytes[i] ?? 0) / 255) * (limits[2 * c + 1]! - low)
  }
  const table = base.manyTints(colors)
  const n = base.inks.length
  const indexOf = (value: number) => Math.min(count - 1, Math.max(0, Math.round(value) || 0))
  return makeSpace({
    family: 'Indexed',
    components: 1,
    initial: [0],
    decode: bits => [0, 2 ** bits - 1],
    inks: base.inks,
    manyTints: values => {
      const out = new Float32Array(values.length * n)
      for (let i = 0; i < values.length; i++) {
        const from = indexOf(values[i]!) * n
        for (let k = 0; k < n; k++) out[i * n + k] = table[from + k]!
      }
      return out
    },
    inkColor: values => {
      const from = indexOf(values[0] ?? 0) * base.components
      return base.inkColor(Array.from(colors.subarray(from, from + base.components)))
    },
  })
}

function lookupBytes(reading: Reading, object: PDFObject | undefined, size: number): Uint8Array {
  if (object instanceof PDFString || object instanceof PDFHexString) return object.asBytes()
  if (object instanceof PDFRawStream)
    return streamData(reading.file, object, size + 65536, 'colour space Indexed').bytes
  throw badSpace(reading, 'colour space Indexed', 'it has no colours')
}
