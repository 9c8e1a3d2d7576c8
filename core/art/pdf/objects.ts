import {
  PDFArray,
  PDFBool,
  PDFDict,
  PDFHexString,
  PDFName,
  PDFNull,
  PDFNumber,
  type PDFObject,
  PDFRawStream,
  PDFString,
} from '../../base/pdf.ts'

// Looking into the objects of a file without a throw: what is not of the expected kind is undefined.

/** The entry of a dictionary with references followed; null and absent are undefined. */
export function look(dict: PDFDict | undefined, name: string): PDFObject | undefined {
  const value = dict?.lookup(PDFName.of(name))
  return value === PDFNull ? undefined : value
}

/** A dictionary, or that of a stream. */
export function asDict(object: PDFObject | undefined): PDFDict | undefined {
  if (object instanceof PDFDict) return object
  return object instanceof PDFRawStream ? object.dict : undefined
}

export const dictOf = (dict: PDFDict | undefined, name: string): PDFDict | undefined =>
  asDict(look(dict, name))

export function streamOf(dict: PDFDict | undefined, name: string): PDFRawStream | undefined {
  const value = look(dict, name)
  return value instanceof PDFRawStream ? value : undefined
}

export function arrayOf(dict: PDFDict | undefined, name: string): PDFArray | undefined {
  const value = look(dict, name)
  return value instanceof PDFArray ? value : undefined
}

/** What an array holds, references followed; null becomes undefined. */
export function items(array: PDFArray | undefined): readonly (PDFObject | undefined)[] {
  if (array === undefined) return []
  return Array.from({ length: array.size() }, (_, at) => {
    const value = array.lookup(at)
    return value === PDFNull ? undefined : value
  })
}

export const asNumber = (object: PDFObject | undefined): number | undefined =>
  object instanceof PDFNumber ? object.asNumber() : undefined

export const numberOf = (dict: PDFDict | undefined, name: string): number | undefined =>
  asNumber(look(dict, name))

/** All of an array as numbers; undefined where one is none. */
export function asNumbers(object: PDFObject | undefined): readonly number[] | undefined {
  if (!(object instanceof PDFArray)) return undefined
  const numbers = items(object).map(asNumber)
  return numbers.every(value => value !== undefined) ? numbers : undefined
}

export const numbersOf = (dict: PDFDict | undefined, name: string): readonly number[] | undefined =>
  asNumbers(look(dict, name))

export function booleanOf(dict: PDFDict | undefined, name: string): boolean | undefined {
  const value = look(dict, name)
  return value instanceof PDFBool ? value.asBoolean() : undefined
}

/** A name as people read it: UTF-8 where its bytes are (ISO 32000-2, 7.3.5), else one character a byte. */
export function asName(object: PDFObject | undefined): string | undefined {
  if (!(object instanceof PDFName)) return undefined
  const bytes = object.asBytes()
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return String.fromCharCode(...bytes)
  }
}

export const nameOf = (dict: PDFDict | undefined, name: string): string | undefined =>
  asName(look(dict, name))

/** A text string as people read it. */
export function asText(object: PDFObject | undefined): string | undefined {
  if (!(object instanceof PDFString || object instanceof PDFHexString)) return undefined
  try {
    return object.decodeText()
  } catch {
    return String.fromCharCode(...object.asBytes())
  }
}

export const textOf = (dict: PDFDict | undefined, name: string): string | undefined =>
  asText(look(dict, name))
