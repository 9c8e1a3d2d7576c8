import { inflateSync } from 'node:zlib'
import {
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFHexString,
  PDFName,
  PDFNumber,
  type PDFRawStream,
  PDFString,
} from '../../core/base/pdf.ts'

type Box = readonly [left: number, bottom: number, right: number, top: number]

/** A page of plates as it is read back by its objects. */
export interface ReadPage {
  readonly boxes: Readonly<Record<'MediaBox' | 'BleedBox' | 'TrimBox', Box>>
  readonly content: string
  /** Names of the colorants of each colour space of the page. */
  readonly colorants: ReadonlyMap<string, readonly string[]>
  /** By the layer it lies in: the image's inks and its bytes. */
  readonly images: ReadonlyMap<
    string,
    { readonly ink: string; readonly width: number; readonly height: number; readonly data: Uint8Array }
  >
  readonly resources: PDFDict
}

export interface ReadLayer {
  readonly name: string
  readonly group: string | null
  readonly type: string | null
  readonly print: string | null
}

export interface ReadPlates {
  readonly document: PDFDocument
  readonly pages: readonly ReadPage[]
  readonly layers: readonly ReadLayer[]
}

export async function readPlates(bytes: Uint8Array): Promise<ReadPlates> {
  const document = await PDFDocument.load(bytes, { updateMetadata: false })
  const { catalog } = document
  const list = catalog.lookup(PDFName.of('OCProperties'), PDFDict).lookup(PDFName.of('OCGs'), PDFArray)
  const layers = Array.from({ length: list.size() }, (_, i) => readLayer(list.lookup(i, PDFDict)))
  const pages = document.getPages().map(({ node }): ReadPage => {
    const resources = node.lookup(PDFName.of('Resources'), PDFDict)
    const content = text(node.lookup(PDFName.of('Contents')) as PDFRawStream)
    const box = (name: string) =>
      node
        .lookup(PDFName.of(name), PDFArray)
        .asArray()
        .map(side => (side as PDFNumber).asNumber()) as unknown as Box
    const colours = resources.lookup(PDFName.of('ColorSpace'), PDFDict)
    const objects = resources.lookup(PDFName.of('XObject'), PDFDict)
    const properties = resources.lookup(PDFName.of('Properties'), PDFDict)
    const images = new Map<string, ReadPage['images'] extends ReadonlyMap<string, infer I> ? I : never>()
    for (const [, layer, image] of content.matchAll(/\/OC \/(\w+) BDC\n.*?\/(\w+) Do Q.*?EMC/gs)) {
      const stream = objects.lookup(PDFName.of(image!)) as PDFRawStream
      const size = (key: string) => stream.dict.lookup(PDFName.of(key), PDFNumber).asNumber()
      const [width, height] = [size('Width'), size('Height')]
      images.set(readLayer(properties.lookup(PDFName.of(layer!), PDFDict)).name, {
        ink: colorantsOf(stream.dict.lookup(PDFName.of('ColorSpace'), PDFArray))[0]!,
        width,
        height,
        data: new Uint8Array(inflateSync(stream.contents)),
      })
    }
    return {
      boxes: { MediaBox: box('MediaBox'), BleedBox: box('BleedBox'), TrimBox: box('TrimBox') },
      content,
      colorants: new Map(
        colours.keys().map(key => [key.decodeText(), colorantsOf(colours.lookup(key, PDFArray))] as const),
      ),
      images,
      resources,
    }
  })
  return { document, pages, layers }
}

function colorantsOf(space: PDFArray): readonly string[] {
  const names = space.lookup(1)
  const all = names instanceof PDFArray ? names.asArray() : [names]
  return all.map(name => (name as PDFName).decodeText())
}

function readLayer(layer: PDFDict): ReadLayer {
  const name = layer.lookup(PDFName.of('Name'))
  const step = layer.lookupMaybe(PDFName.of('GTS_Metadata'), PDFDict)
  const said = (dict: PDFDict | undefined, key: string) =>
    dict?.lookupMaybe(PDFName.of(key), PDFName)?.decodeText() ?? null
  const print = layer.lookupMaybe(PDFName.of('Usage'), PDFDict)?.lookupMaybe(PDFName.of('Print'), PDFDict)
  return {
    name: name instanceof PDFHexString || name instanceof PDFString ? name.decodeText() : '',
    group: said(step, 'GTS_ProcStepsGroup'),
    type: said(step, 'GTS_ProcStepsType'),
    print: said(print, 'PrintState'),
  }
}

function text({ contents, dict }: PDFRawStream): string {
  const packed = dict.get(PDFName.of('Filter')) !== undefined
  return new TextDecoder().decode(packed ? inflateSync(contents) : contents)
}
