import { PDFArray, PDFDict, type PDFObject, PDFRawStream } from '../../base/pdf.ts'
import type { PdfFile } from './document.ts'
import type { InkHint } from './ink-set.ts'
import { arrayOf, asName, asNumber, dictOf, items, numberOf } from './objects.ts'

/** Objects that are looked at; the hints of any carton lie in a few. */
const mostObjects = 2_000_000

/**
 * What a file says of its inks beside their colours: solidity and printing order by name (MixingHints of ISO 32000-2,
 * table 72, in DeviceN spaces and output intents). Where places differ, the first counts.
 */
export function hintsOf(file: PdfFile): ReadonlyMap<string, InkHint> {
  const hints = new Map<string, InkHint>()
  let left = mostObjects
  const visit = (object: PDFObject, depth: number): void => {
    if (left-- <= 0 || depth > 32) return
    if (object instanceof PDFRawStream) visit(object.dict, depth)
    else if (object instanceof PDFArray) for (const item of object.asArray()) visit(item, depth + 1)
    else if (object instanceof PDFDict) {
      const mixing = dictOf(object, 'MixingHints')
      if (mixing !== undefined) addHints(hints, mixing)
      for (const value of object.values()) visit(value, depth + 1)
    }
  }
  for (const [, object] of file.context.enumerateIndirectObjects()) visit(object, 0)
  return hints
}

function addHints(hints: Map<string, InkHint>, mixing: PDFDict): void {
  const solidities = dictOf(mixing, 'Solidities')
  const order = items(arrayOf(mixing, 'PrintingOrder')).map(asName)
  const usual = share(numberOf(solidities, 'Default'))
  const named = solidities?.keys().flatMap(key => asName(key) ?? []) ?? []
  for (const name of new Set([...named, ...order])) {
    if (name === undefined || name === 'Default') continue
    const before = hints.get(name)
    const place = order.indexOf(name)
    const own = solidities === undefined ? null : share(amountOf(solidities, name))
    hints.set(name, {
      solidity: before?.solidity ?? own ?? usual,
      order: before?.order ?? (place < 0 ? null : place),
    })
  }
}

const amountOf = (dict: PDFDict, name: string): number | undefined => {
  const key = dict.keys().find(one => asName(one) === name)
  return key === undefined ? undefined : asNumber(dict.lookup(key))
}

const share = (value: number | undefined): number | null =>
  value === undefined || !(value >= 0 && value <= 1) ? null : value
