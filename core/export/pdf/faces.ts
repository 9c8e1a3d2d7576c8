import { type PDFDocument, type PDFFont, StandardFonts } from '../../base/pdf.ts'

export type FaceName = 'regular' | 'bold' | 'mono'

/** A stretch of text in one font, ready for a content stream. */
export interface Run {
  /** Key among the fonts of a page. */
  readonly font: string
  /** As a hexadecimal string of the format. */
  readonly hex: string
  /** Points at a size of 1. */
  readonly width: number
}

/** Signs that look the same, or as good, by one that the fonts have. */
const alike: Readonly<Record<string, string>> = {
  '\u2212': '\u2013',
  '\u2010': '-',
  '\u2011': '-',
  '\u202f': '\u00a0',
  '\u2009': ' ',
  '\u2032': "'",
  '\u2033': '"',
  '\u03bc': '\u00b5',
}

/**
 * The fonts of a document: those that every reader of the format has, so none is embedded. They have the letters of
 * Western Europe, Greek and some signs of mathematics; what else is met is shown by its base letter or by its number, and
 * {@link substitutes} says so. Source: ISO 32000-2:2020, 9.6.2.2 (standard 14 fonts) and annex D.
 */
export class Faces {
  readonly #fonts: ReadonlyMap<string, { readonly font: PDFFont; readonly has: ReadonlySet<number> }>
  /** What was shown in place of signs that the fonts lack. */
  readonly substitutes = new Map<string, string>()

  private constructor(fonts: ReadonlyMap<string, PDFFont>) {
    this.#fonts = new Map(
      [...fonts].map(([key, font]) => [key, { font, has: new Set(font.getCharacterSet()) }]),
    )
  }

  static async open(pdf: PDFDocument): Promise<Faces> {
    const names = {
      regular: StandardFonts.Helvetica,
      bold: StandardFonts.HelveticaBold,
      mono: StandardFonts.Courier,
      symbol: StandardFonts.Symbol,
    }
    const fonts = new Map<string, PDFFont>()
    for (const [key, name] of Object.entries(names)) fonts.set(key, await pdf.embedFont(name))
    return new Faces(fonts)
  }

  /** The fonts by their keys, for the resources of a page. */
  *entries(): Generator<readonly [key: string, font: PDFFont]> {
    for (const [key, { font }] of this.#fonts) yield [key, font]
  }

  /** Text as it will be set: every sign is one that a font has. Lines and tabs become blanks. */
  settable(text: string, face: FaceName): string {
    return [...text].map(sign => this.#shown(sign, face)).join('')
  }

  /** Runs of settable text. */
  runs(text: string, face: FaceName): readonly Run[] {
    const runs: Run[] = []
    let key = ''
    let part = ''
    const end = () => {
      if (part === '') return
      const { font } = this.#fonts.get(key)!
      runs.push({ font: key, hex: font.encodeText(part).toString(), width: font.widthOfTextAtSize(part, 1) })
    }
    for (const sign of text) {
      const own = this.#fonts.get(face)!.has.has(sign.codePointAt(0)!) ? face : 'symbol'
      if (own !== key) {
        end()
        key = own
        part = ''
      }
      part += sign
    }
    end()
    return runs
  }

  /** Width of settable text, points. */
  width(text: string, face: FaceName, size: number): number {
    return size * this.runs(text, face).reduce((sum, run) => sum + run.width, 0)
  }

  #shown(sign: string, face: FaceName): string {
    const code = sign.codePointAt(0)!
    const has = (one: string): boolean => this.#fonts.get(face)!.has.has(one.codePointAt(0)!)
    if (has(sign)) return sign
    if (sign === '\n' || sign === '\t' || sign === '\r') return ' '
    const same = alike[sign]
    if (same !== undefined && has(same)) return same
    if (this.#fonts.get('symbol')!.has.has(code)) return sign
    const base = [...sign.normalize('NFKD')].filter(one => !/\p{Mark}/u.test(one))
    const shown =
      base.length > 0 && base.every(has)
        ? base.join('')
        : `[${code.toString(16).toUpperCase().padStart(4, '0')}]`
    this.substitutes.set(sign, shown)
    return shown
  }
}
