import { BadInput } from '../../base/finding.ts'
import type { ReadGlyph, ReadGlyphs, ReadStrings } from '../../base/glyph-reader.ts'
import { type PDFDict, PDFName, type PDFObject } from '../../base/pdf.ts'
import { checkCancelled } from '../../base/task.ts'
import { codeEntries, type FontSaid, fontSaid } from './font-dict.ts'
import { drawnByLetters, letterEntries, lettersOf, tellsLetters } from './font-letters.ts'
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
  const foreign = asked.filter(
    ({ dict, said }) => said.kind !== 'composite' && (read.get(dict)?.missing ?? true),
  )
  const replaced = await readFonts(reading, foreign, readGlyphs, standInEntries)
  const byLetters = await standInByLetters(reading, asked, read, readGlyphs)
  return new Map(
    asked.map(one => {
      const strings = read.get(one.dict)
      const drawn = byLetters.get(one.dict)
      const other = replaced.get(one.dict) ?? drawn?.strings
      tell(reading, one, strings, other, drawn?.lacking ?? [])
      const isOwn = one.said.embedded && strings?.missing === false
      const best = isOwn || other === undefined || other.missing ? strings : other
      return [one.dict, opened(one, best ?? other)]
    }),
  )
}

/** Composite fonts that are missing, and say what letters they show. */
async function standInByLetters(
  reading: FontReading,
  asked: readonly Asked[],
  read: ReadonlyMap<PDFDict, ReadStrings>,
  readGlyphs: ReadGlyphs,
): Promise<ReadonlyMap<PDFDict, ReturnType<typeof drawnByLetters>>> {
  const missing = asked.flatMap(one => {
    const own = read.get(one.dict)
    const foreign = one.said.kind === 'composite' && (!one.said.embedded || own?.missing === true)
    return foreign && own !== undefined && tellsLetters(one.dict)
      ? [{ ...one, own, letters: lettersOf(own) }]
      : []
  })
  const byCode = missing.map(({ letters, ...one }) => ({
    ...one,
    letters,
    strings: [Uint8Array.from(letters, (_, at) => at + 1)],
  }))
  const drawn = await readFonts(reading, byCode, readGlyphs, ({ said, letters }) =>
    letterEntries(reading.context, standIn(said), letters),
  )
  return new Map(
    missing.map(({ dict, own, letters }) => [dict, drawnByLetters(own, letters, drawn.get(dict))]),
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
async function readFonts<T extends Asked>(
  reading: FontReading,
  asked: readonly T[],
  readGlyphs: ReadGlyphs,
  entries: (one: T) => Entries,
): Promise<ReadonlyMap<PDFDict, ReadStrings>> {
  const found = new Map<PDFDict, ReadStrings>()
  const read = async (some: readonly T[]): Promise<boolean> => {
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
  lacking: readonly string[],
): void {
  if (said.kind === 'type3' || (said.embedded && own?.missing === false)) return
  const where = `font "${said.name}"`
  const standsIn = other?.missing === false
  const lacks =
    standsIn && lacking.length > 0
      ? `; it lacks ${lacking.slice(0, 8).join(' ')}${lacking.length > 8 ? ` and ${lacking.length - 8} more` : ''}, which are not shown`
      : ''
  const instead = standsIn
    ? `${standIn(said)} stands in for it: letters may be shaped and spaced otherwise${lacks}`
    : own?.missing === false
      ? 'letters of another font are shown by their numbers: they may be wrong ones'
      : 'nothing can stand in for it: what is set in it is not shown'
  findings.push({
    severity: standsIn && lacks === '' ? 'warning' : 'error',
    code: said.embedded ? 'font-unreadable' : 'font-not-embedded',
    where,
    message: said.embedded
      ? `is in the file but cannot be read; ${instead}`
      : `is not in the file; ${instead}`,
    fix: 'Embed all fonts, or turn type into outlines, and export the page again.',
  })
}
