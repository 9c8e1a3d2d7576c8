import { BadInput } from '../../base/finding.ts'
import {
  PDFArray,
  PDFContext,
  PDFDict,
  PDFName,
  type PDFObject,
  PDFRawStream,
  PDFRef,
  PDFStream,
  PDFWriter,
} from '../../base/pdf.ts'
import { streamData } from './stream.ts'

/** A font and the strings that are to be read in it. */
export interface AskedFont {
  /** Entries of its dictionary, as the file of `context` has them. */
  readonly entries: ReadonlyMap<string, PDFObject>
  readonly strings: readonly Uint8Array[]
}

/** Far beyond any font; a file that asks for more is made to stall. */
const limits = { objects: 2_000_000, depth: 24, streamBytes: 64e6 } as const

/** What leads out of a font into the rest of a file. */
const leftOut = new Set(['Parent', 'Resources', 'CharProcs', 'Metadata', 'StructParents'])

/**
 * A PDF of its own with fonts of another and one page that shows strings in them, each after its number among the
 * font's strings as a line width. Nothing but fonts comes along, their streams unpacked.
 * @throws BadInput where a font refers to more than a font can be
 */
export async function fontPage(
  file: string,
  source: PDFContext,
  fonts: readonly AskedFont[],
): Promise<Uint8Array> {
  const context = PDFContext.create()
  const copy = new Copy(file, source, context)
  const faces = context.obj({})
  const lines: string[] = ['BT']
  for (const [number, { entries, strings }] of fonts.entries()) {
    const face = context.obj({})
    for (const [name, value] of entries) face.set(PDFName.of(name), copy.of(value, 0))
    faces.set(PDFName.of(`F${number}`), context.register(face))
    lines.push(`/F${number} 1 Tf`)
    for (const [at, string] of strings.entries()) lines.push(`${at} w`, `<${hexOf(string)}> Tj`)
  }
  lines.push('ET')
  const pages = context.nextRef()
  const page = context.obj({ Type: 'Page', Parent: pages, MediaBox: [0, 0, 1, 1] })
  page.set(PDFName.of('Contents'), context.register(context.stream(lines.join('\n'))))
  page.set(PDFName.of('Resources'), context.obj({ Font: faces }))
  context.assign(pages, context.obj({ Type: 'Pages', Kids: [context.register(page)], Count: 1 }))
  context.trailerInfo.Root = context.register(context.obj({ Type: 'Catalog', Pages: pages }))
  return PDFWriter.forContext(context, Number.POSITIVE_INFINITY).serializeToBuffer()
}

const hexOf = (bytes: Uint8Array): string =>
  Array.from(bytes, byte => byte.toString(16).padStart(2, '0')).join('')

class Copy {
  readonly #known = new Map<PDFRef, PDFRef>()
  #objects = 0

  constructor(
    private readonly file: string,
    private readonly from: PDFContext,
    private readonly to: PDFContext,
  ) {}

  of(object: PDFObject, depth: number): PDFObject {
    if (++this.#objects > limits.objects) throw this.#tooMuch(`holds more than ${limits.objects} objects`)
    if (depth > limits.depth) throw this.#tooMuch(`is nested more than ${limits.depth} deep`)
    if (object instanceof PDFRef) return this.#reference(object, depth)
    if (object instanceof PDFArray) {
      const made = this.to.obj([])
      for (const entry of object.asArray()) made.push(this.of(entry, depth + 1))
      return made
    }
    if (object instanceof PDFRawStream) {
      const { bytes } = streamData(this.file, object, limits.streamBytes, 'a font')
      const dict = this.#dict(object.dict, depth)
      for (const name of ['Filter', 'DecodeParms', 'Length', 'F', 'FFilter']) dict.delete(PDFName.of(name))
      return PDFRawStream.of(dict, bytes)
    }
    if (object instanceof PDFDict) return this.#dict(object, depth)
    // Numbers, names, strings, true, false, null hold nothing of their file.
    return object instanceof PDFStream ? this.to.obj(null) : object
  }

  #dict(dict: PDFDict, depth: number): PDFDict {
    const made = this.to.obj({})
    for (const [name, value] of dict.entries())
      if (!leftOut.has(name.decodeText())) made.set(name, this.of(value, depth + 1))
    return made
  }

  #reference(ref: PDFRef, depth: number): PDFObject {
    const known = this.#known.get(ref)
    if (known !== undefined) return known
    const made = this.to.nextRef()
    this.#known.set(ref, made)
    const target = this.from.lookup(ref)
    if (target !== undefined) this.to.assign(made, this.of(target, depth + 1))
    return made
  }

  #tooMuch(what: string): BadInput {
    return new BadInput(
      'font-too-large',
      this.file,
      'a font',
      what,
      'Turn the type that is set in it into outlines and export the page again.',
    )
  }
}
