import type { PDFDict } from '../../base/pdf.ts'
import { nameOf } from './objects.ts'
import type { OpenedFont } from './reading.ts'

/** Notes what a page shows in which font, before fonts are opened. */
export class ShownStrings {
  readonly shown = new Map<PDFDict, Uint8Array[]>()
  readonly #fonts = new Map<PDFDict, OpenedFont>()

  /** @param contents opens a font whose glyphs are contents: those are run, since they show strings and inks too */
  constructor(private readonly contents: (dict: PDFDict) => OpenedFont | null) {}

  font(dict: PDFDict): OpenedFont {
    const known = this.#fonts.get(dict)
    if (known !== undefined) return known
    const strings: Uint8Array[] = []
    this.shown.set(dict, strings)
    const drawn = nameOf(dict, 'Subtype') === 'Type3' ? this.contents(dict) : null
    const font: OpenedFont = {
      name: nameOf(dict, 'BaseFont') ?? '',
      embedded: true,
      vertical: false,
      type3: null,
      ...drawn,
      glyphs: string => {
        strings.push(string)
        return drawn?.glyphs(string) ?? []
      },
    }
    this.#fonts.set(dict, font)
    return font
  }
}
