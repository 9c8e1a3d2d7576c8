import type { Finding } from '../../base/finding.ts'
import type { PDFDict } from '../../base/pdf.ts'
import { arrayOf, asDict, dictOf, items, nameOf, numberOf } from './objects.ts'

/**
 * What lies over a page and is no part of its art: notes, fields, stamps. They go onto no plate, also those that are set
 * to be printed: a file for the press has none inside its bleed (ISO 15930-7; from memory). Those are told apart, because whoever
 * prints the page as it is prints them too.
 */
export function annotationFindings(page: PDFDict, number: number): readonly Finding[] {
  const drawn = items(arrayOf(page, 'Annots'))
    .map(asDict)
    .filter(dict => dict !== undefined)
    .filter(isSeen)
  const printed = drawn.filter(dict => (flagsOf(dict) & flags.print) !== 0)
  const others = drawn.filter(dict => !printed.includes(dict))
  const where = `page ${number}`
  const found: Finding[] = []
  if (printed.length > 0)
    found.push({
      severity: 'warning',
      code: 'annotations-set-to-print',
      where,
      message: `${listed(printed)} over the page ${printed.length === 1 ? 'is' : 'are'} set to be printed and left out here: other programs print ${printed.length === 1 ? 'it' : 'them'} with the page.`,
      fix: 'Delete them before the file goes out; what is art, make an object of the page.',
    })
  if (others.length > 0)
    found.push({
      severity: 'note',
      code: 'annotations-not-read',
      where,
      message: `${listed(others)} over the page ${others.length === 1 ? 'is' : 'are'} left out; ${others.length === 1 ? 'it is' : 'they are'} not set to be printed.`,
      fix: 'Nothing, unless they are art: then make them objects of the page.',
    })
  return found
}

/** Source: ISO 32000-2, table 167. */
const flags = { hidden: 1 << 1, print: 1 << 2, noView: 1 << 5 } as const
const flagsOf = (dict: PDFDict): number => numberOf(dict, 'F') ?? 0

/** Whether it is drawn anywhere, on a screen or in print. */
function isSeen(dict: PDFDict): boolean {
  const set = flagsOf(dict)
  if (dictOf(dict, 'AP') === undefined || silent.has(nameOf(dict, 'Subtype') ?? '')) return false
  return (set & flags.hidden) === 0 && ((set & flags.noView) === 0 || (set & flags.print) !== 0)
}

const silent = new Set(['Link', 'Popup', 'TrapNet', 'PrinterMark'])

/** Kinds (ISO 32000-2, table 171) as one of them and several are called. */
const kinds: Readonly<Record<string, readonly [one: string, several: string]>> = {
  Text: ['note', 'notes'],
  FreeText: ['text box', 'text boxes'],
  Stamp: ['stamp', 'stamps'],
  Widget: ['form field', 'form fields'],
  Highlight: ['mark on text', 'marks on text'],
  Underline: ['mark on text', 'marks on text'],
  Squiggly: ['mark on text', 'marks on text'],
  StrikeOut: ['mark on text', 'marks on text'],
  Caret: ['mark on text', 'marks on text'],
  Ink: ['drawn comment', 'drawn comments'],
  Line: ['drawn comment', 'drawn comments'],
  Square: ['drawn comment', 'drawn comments'],
  Circle: ['drawn comment', 'drawn comments'],
  Polygon: ['drawn comment', 'drawn comments'],
  PolyLine: ['drawn comment', 'drawn comments'],
  Watermark: ['watermark', 'watermarks'],
  FileAttachment: ['attached file', 'attached files'],
}
const unknown = ['other comment', 'other comments'] as const

/** `2 notes and 1 stamp` */
function listed(dicts: readonly PDFDict[]): string {
  const counts = new Map<readonly [string, string], number>()
  const names = new Map<string, readonly [string, string]>()
  for (const dict of dicts) {
    const kind = kinds[nameOf(dict, 'Subtype') ?? ''] ?? unknown
    const name = names.get(kind[0]) ?? kind
    names.set(kind[0], name)
    counts.set(name, (counts.get(name) ?? 0) + 1)
  }
  const parts = [...counts].map(([[one, several], count]) => `${count} ${count === 1 ? one : several}`)
  return parts.length < 2 ? parts.join() : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`
}
