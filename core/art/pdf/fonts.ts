import { BadInput } from '../../base/finding.ts'
import type { ReadGlyph, ReadGlyphs, ReadStrings } from '../../base/glyph-reader.ts'
import { type PDFDict, PDFName, type PDFObject } from '../../base/pdf.ts'
import { checkCancelled } from '../../base/task.ts'
import { codeEntries, type FontSaid, fontSaid } from './font-dict.ts'
import { type AskedFont, fontPage } from './font-page.ts'
import { outlineOf } from './glyph-outline.ts'
import { look } from './objects.ts'
import type { Glyph, OpenedFont, OpenFonts } from './reading.ts'
import { standIn } from './stand-in.ts'
import { type3Font } from './type3.ts'

/**
 * Opens fonts for the strings that are shown in them. One that is not in the file, or cannot be read, has another of the
 * fourteen standard fonts stand in for it, and a finding says so.
 * @throws BadInput where fonts ask for more than fonts can be
 */
export const openFonts: OpenFonts = async (reading, shown, readGlyphs) => {
  const asked = [...shown].map(([dict, strings]): Asked => {
    const said = fontSaid(dict)
    const distinct = said.kind === 'composite' ? distinctStrings(strings) : [distinctCodes(strings)]
    return { dict, said, strings: distinct }
  })
  checkSize(reading, asked)
  const own = asked.filter(
    ({ said }) => said.kind !== 'type3' && (said.embedded || said.kind === 'composite'),
  )
  const read = await readFonts(reading, own, readGlyphs, ({ dict }) => entriesOf(dict))
  // What stands in reads codes of one byte only: for others nothing does.
  const foreign = asked.filter(
    ({ dict, said }) => said.kind !== 'composite' && (read.get(dict)?.missing ?? true),
  )
  const replaced = await readFonts(reading, foreign, readGlyphs, standInEntries)
  return new Map(
    asked.map(one => {
      const strings = read.get(one.dict)
      const other = replaced.get(one.dict)
      tell(reading, one, strings, other)
      const best = strings?.missing === false ? strings : (other ?? strings)
      return [one.dict, opened(one, best)]
    }),
  )
}

type FontReading = Parameters<OpenFonts>[0]

interface Asked {
  readonly dict: PDFDict
  readonly said: FontSaid
  readonly strings: readonly Uint8Array[]
}

/** Text of a whole book; more is no carton. */
const mostBytes = 4e6

function checkSize({ file }: FontReading, asked: readonly Asked[]): void {
  const bytes = asked.reduce(
    (sum, { strings }) => sum + strings.reduce((part, { length }) => part + length, 0),
    0,
  )
  if (bytes > mostBytes)
    throw new BadInput(
      'too-much-type',
      file,
      'the page',
      `it shows more than ${mostBytes / 1e6} million bytes of type`,
      'Turn type into outlines, or export less of it.',
    )
}

function distinctCodes(strings: readonly Uint8Array[]): Uint8Array {
  const codes = new Set<number>()
  for (const string of strings) for (const code of string) codes.add(code)
  return Uint8Array.from(codes)
}

function distinctStrings(strings: readonly Uint8Array[]): readonly Uint8Array[] {
  return [...new Map(strings.map(string => [keyOf(string), string])).values()]
}

/** Bytes as a key of a map. */
function keyOf(bytes: Uint8Array): string {
  let key = ''
  for (const byte of bytes) key += String.fromCharCode(byte)
  return key
}

type Entries = AskedFont['entries']

function entriesOf(dict: PDFDict): Entries {
  return new Map(dict.entries().map(([name, value]) => [name.decodeText(), value]))
}

/** Of the font itself only what its codes mean, and how wide they are. */
function standInEntries({ dict, said }: Asked): Entries {
  const entries = new Map<string, PDFObject>([
    ['Type', PDFName.of('Font')],
    ['Subtype', PDFName.of(look(dict, 'Subtype') === PDFName.of('TrueType') ? 'TrueType' : 'Type1')],
    ['BaseFont', PDFName.of(standIn(said))],
  ])
  for (const name of codeEntries) {
    const value = dict.get(PDFName.of(name))
    if (value !== undefined) entries.set(name, value)
  }
  return entries
}

/**
 * All of them at once; where that fails, one by one, so that one bad font does not cost the others. Those that are left
 * when several were bad are not tried: each may have taken as long as fonts may take.
 */
async function readFonts(
  reading: FontReading,
  asked: readonly Asked[],
  readGlyphs: ReadGlyphs,
  entries: (one: Asked) => Entries,
): Promise<ReadonlyMap<PDFDict, ReadStrings>> {
  const found = new Map<PDFDict, ReadStrings>()
  const read = async (some: readonly Asked[]): Promise<boolean> => {
    checkCancelled(reading.task)
    const fonts = some.map(one => ({ entries: entries(one), strings: one.strings }))
    const pdf = await fontPage(reading.file, reading.context, fonts)
    const strings = await readGlyphs(pdf).catch(() => [])
    if (strings.length !== some.length) return false
    for (const [at, { dict }] of some.entries()) found.set(dict, strings[at]!)
    return true
  }
  if (asked.length === 0 || (await read(asked)) || asked.length === 1) return found
  let bad = 0
  for (const one of asked) if (bad < mostBad && !(await read([one]))) bad++
  return found
}

const mostBad = 3

function opened({ dict, said, strings }: Asked, read: ReadStrings | undefined): OpenedFont {
  if (said.kind === 'type3') return type3Font(dict, meaning(strings[0]!, read))
  const glyphs = new Map<string, readonly Glyph[]>()
  const own = new Map<ReadGlyph, Glyph>()
  const made = (one: ReadGlyph): Glyph => {
    const known = own.get(one) ?? glyphOf(one)
    own.set(one, known)
    return known
  }
  for (const [at, string] of strings.entries()) {
    const answer = (read?.strings.get(at) ?? []).map(made)
    if (said.kind === 'composite') glyphs.set(keyOf(string), answer)
    else
      for (const [i, code] of string.entries())
        if (answer[i]) glyphs.set(String.fromCharCode(code), [answer[i]])
  }
  return {
    name: said.name,
    embedded: said.embedded,
    vertical: read?.vertical ?? false,
    type3: null,
    glyphs: shown =>
      said.kind === 'composite'
        ? (glyphs.get(keyOf(shown)) ?? [])
        : Array.from(shown, code => glyphs.get(String.fromCharCode(code)) ?? []).flat(),
  }
}

const glyphOf = ({ outline, advance, unicode, isSpace, origin }: ReadGlyph): Glyph => ({
  advance,
  outline: outlineOf(outline),
  unicode,
  isSpace,
  content: null,
  origin,
})

/** What codes stand for, by a font that was read for nothing else. */
function meaning(codes: Uint8Array, read: ReadStrings | undefined): (code: number) => string {
  const glyphs = read?.strings.get(0) ?? []
  const known = new Map(Array.from(codes, (code, at) => [code, glyphs[at]?.unicode ?? '']))
  return code => known.get(code) ?? ''
}

function tell(
  { findings }: FontReading,
  { said }: Asked,
  own: ReadStrings | undefined,
  other: ReadStrings | undefined,
): void {
  if (said.kind === 'type3' || own?.missing === false) return
  const where = `font "${said.name}"`
  const instead =
    other?.missing === false
      ? `${standIn(said)} stands in for it: letters may be shaped and spaced otherwise`
      : 'nothing can stand in for it: what is set in it is not shown'
  findings.push({
    severity: other?.missing === false ? 'warning' : 'error',
    code: said.embedded ? 'font-unreadable' : 'font-not-embedded',
    where,
    message: said.embedded
      ? `is in the file but cannot be read; ${instead}`
      : `is not in the file; ${instead}`,
    fix: 'Embed all fonts, or turn type into outlines, and export the page again.',
  })
}
