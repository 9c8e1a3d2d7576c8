import { Deflater, deflate } from '../base/inflate.ts'
import {
  PDFDocument,
  type PDFFont,
  PDFHexString,
  PDFName,
  PDFRawStream,
  type PDFRef,
  PDFString,
} from '../base/pdf.ts'
import { sha256Hex } from '../base/sha256.ts'
import { checkCancelled, partOf, type Task } from '../base/task.ts'
import type { InkPlate } from './ink-plate.ts'
import { PackedPlane } from './packed-plane.ts'
import { pointsPerMm, reals } from './pdf-content.ts'
import { allInksSpace, mixingHints, type PdfInk, separationSpace } from './plate-color.ts'
import { embeddedFont, labelMetrics } from './plate-font.ts'
import { type Label, labelContent, labelOf } from './plate-label.ts'
import { LayerList } from './plate-layers.ts'
import { marksContent, marksReach } from './plate-marks.ts'
import { dielineName } from './plate-names.ts'
import type { HoloArea } from './plate-outlines.ts'
import { edge, type PageSize, pageSize, pageWidth } from './plate-page.ts'
import type { PlateSheet } from './plate-sheet.ts'
import { closedPath, shapeContent, type Technical } from './plate-technical.ts'
import { type PlateLabel, type PlateUse, type Reading, readings } from './plate-wish.ts'
import { plateXmp } from './plate-xmp.ts'

/** What goes into a file of plates. */
export interface PlatePages {
  readonly use: PlateUse
  /** In the order in which they are laid down. `cmyk`: what stands for an ink where several are mixed. */
  readonly plates: readonly (InkPlate & {
    readonly reading: Reading
    readonly cmyk: PdfInk['cmyk']
  })[]
  readonly technicals: readonly Technical[]
  /** Where the foil carries holography, each by a name of its own. */
  readonly holography: readonly HoloArea[]
  /** The die where it is known by its pixels alone. */
  readonly dieInPixels: PackedPlane | null
  readonly sheet: PlateSheet
  readonly marks: boolean
  readonly label: PlateLabel
  /** Bytes of the font of the label: `labelFontFile`. */
  readonly labelFont: Uint8Array
  /** The print condition: its name, and the bytes of its CMYK profile. */
  readonly condition: { readonly name: string; readonly profile: Uint8Array }
}

/**
 * Plates as a PDF: a page for each reading, on it an image of every plate in a separation of its name, overprinting, and
 * lines of technical steps; each in a layer. True size: a millimetre of the sheet is one on the page.
 * Same input, same bytes. Throws Cancelled when told to stop.
 * Source: ISO 32000-2 for structure; the keys of processing steps: ISO 19593-1.
 */
export async function platePdf(
  pages: PlatePages,
  task?: Task,
): Promise<{ readonly bytes: Uint8Array<ArrayBuffer>; readonly page: PageSize }> {
  const document = await PDFDocument.create({ updateMetadata: false })
  const writer = new Writer(document, pages, await labelMetrics())
  const wanted = readings.filter(reading => pages.plates.some(plate => plate.reading === reading))
  const readingsOfPages = wanted.length > 0 ? wanted : (['right'] as const)
  let page: PageSize | null = null
  for (const [i, reading] of readingsOfPages.entries()) {
    const part = partOf(task, i / readingsOfPages.length, (i + 1) / readingsOfPages.length)
    page = writer.page(reading, i + 1, readingsOfPages.length, part)
  }
  writer.finish()
  checkCancelled(task)
  const bytes = await document.save({
    useObjectStreams: false,
    addDefaultPage: false,
    updateFieldAppearances: false,
  })
  return { bytes: bytes as Uint8Array<ArrayBuffer>, page: page! }
}

class Writer {
  readonly #document: PDFDocument
  readonly #pages: PlatePages
  readonly #metrics: PDFFont
  #font: PDFRef | null = null
  readonly #layers: LayerList
  readonly #technicalLayers = new Map<string, PDFRef>()
  #marksLayer: PDFRef | null = null
  readonly #overprint: PDFRef

  constructor(document: PDFDocument, pages: PlatePages, metrics: PDFFont) {
    this.#document = document
    this.#pages = pages
    this.#metrics = metrics
    this.#layers = new LayerList(document.context)
    // No blending: it would be worked out in the page's own colours, and separations would no longer be the plates.
    // Overprint for fills and strokes, and a tint of 0 leaves what is there: ISO 32000-2, 8.6.7.
    this.#overprint = document.context.register(
      document.context.obj({ Type: 'ExtGState', OP: true, op: true, OPM: 1, SA: true }),
    )
  }

  page(reading: Reading, number: number, count: number, task: Task): PageSize {
    const { context } = this.#document
    const { sheet, marks, label, plates } = this.#pages
    const own = plates.filter(plate => plate.reading === reading)
    const inks: readonly PdfInk[] = own
    const spaces = inks.map(ink => separationSpace(context, ink))
    const colours: Record<string, PDFRef> = {}
    const images: Record<string, PDFRef> = {}
    const properties: Record<string, PDFRef> = {}
    const content: string[] = []
    // On the first page alone, and lowest: it is what the print lies on.
    if (number === 1)
      for (const [i, area] of this.#pages.holography.entries()) {
        colours[`Hs${i}`] = separationSpace(context, technicalInk({ name: area.name, cmyk: holoCmyk }))
        properties[`H${i}`] = this.#layers.add({ ...area, prints: false, kind: 'Technical' })
        content.push(`/OC /H${i} BDC`)
        if (area.fill instanceof PackedPlane) {
          images[`Ho${i}`] = this.#image({ name: area.name, plane: area.fill }, colours[`Hs${i}`]!, {})
          content.push(...this.#placed(`/Ho${i} Do`))
        } else {
          const shapes = area.fill.map(shape => shapeContent(shape, 'fill'))
          content.push(...this.#placed(`/Hs${i} CS 1 SCN /Hs${i} cs 1 scn ${shapes.join('\n')}`, [1, 1]))
        }
        content.push('EMC')
      }
    for (const [i, plate] of own.entries()) {
      const image = this.#image(plate, spaces[i]!, partOf(task, i / own.length, (i + 1) / own.length))
      colours[`Cs${i}`] = spaces[i]!
      images[`Im${i}`] = image
      properties[`L${i}`] = this.#layers.add({
        name: plate.name,
        step: plate.step,
        prints: true,
        kind: 'Artwork',
      })
      content.push(`/OC /L${i} BDC`, ...this.#placed(`/Im${i} Do`), 'EMC')
    }
    const die = this.#dieImage()
    if (die) {
      images.Die = die.image
      properties.Die = die.layer
      content.push('/OC /Die BDC', ...this.#placed('/Die Do'), 'EMC')
    }
    for (const [i, technical] of this.#pages.technicals.entries()) {
      colours[`Ts${i}`] = separationSpace(context, technicalInk(technical))
      properties[`T${i}`] = this.#technicalLayer(technical)
      content.push(`/OC /T${i} BDC`, `q /Ts${i} CS 1 SCN /Ts${i} cs 1 scn`, ...technical.content, 'Q', 'EMC')
    }
    const width = pageWidth(sheet, marks)
    const said: Label | null =
      marks && inks.length > 0
        ? labelOf(
            this.#metrics,
            label,
            { reading, number, count, inks: inks.map(({ name }) => name) },
            width - 2 * edge,
          )
        : null
    const size = pageSize(sheet, marks, said)
    if (said) {
      this.#font ??= embeddedFont(context, this.#pages.labelFont, this.#metrics)
      colours.All = allInksSpace(context, inks, spaces)
      properties.Marks = this.#marks()
      const solid = inks.map(() => '1').join(' ')
      content.push(
        '/OC /Marks BDC',
        `q /All CS ${solid} SCN /All cs ${solid} scn`,
        ...marksContent(sheet),
        ...labelContent(this.#metrics, said, edge - size.left, -sheet.around[1] - marksReach, ink =>
          ink === null ? `/All cs ${solid} scn` : `/Cs${ink} cs 1 scn`,
        ),
        'Q',
        'EMC',
      )
    }
    this.#add(size, reading, content, { colours, images, properties })
    return size
  }

  /** Catalog entries that speak of all pages. */
  finish(): void {
    const { context, catalog } = this.#document
    const { label, condition } = this.#pages
    const inks: readonly PdfInk[] = this.#pages.plates
    catalog.set(PDFName.of('OCProperties'), this.#layers.properties())
    const profile = context.register(
      PDFRawStream.of(
        context.obj({ N: 4, Alternate: 'DeviceCMYK', Filter: 'FlateDecode' }),
        deflate(condition.profile),
      ),
    )
    // ISO 32000-2, 14.11.5; MixingHints there since PDF 2.0.
    const intent = context.obj({
      Type: 'OutputIntent',
      S: 'GTS_PDFX',
      OutputConditionIdentifier: PDFHexString.fromText(condition.name),
      Info: PDFHexString.fromText(condition.name),
      DestOutputProfile: profile,
      ...(inks.length === 0 ? {} : { MixingHints: mixingHints(context, inks) }),
    })
    catalog.set(PDFName.of('OutputIntents'), context.obj([context.register(intent)]))
    const xmp = context.obj({ Type: 'Metadata', Subtype: 'XML' })
    catalog.set(
      PDFName.of('Metadata'),
      context.register(PDFRawStream.of(xmp, new TextEncoder().encode(plateXmp(label)))),
    )
    const made = PDFString.fromDate(new Date(label.madeAt))
    context.trailerInfo.Info = context.register(
      context.obj({
        Title: PDFHexString.fromText(`${label.jobName}: plates`),
        Creator: PDFHexString.fromText(`rakelight ${label.program}`),
        Producer: PDFHexString.fromText(`rakelight ${label.program}`),
        CreationDate: made,
        ModDate: made,
        Trapped: 'False',
      }),
    )
    const id = PDFHexString.of(
      sha256Hex(
        new TextEncoder().encode(JSON.stringify([label, this.#pages.use, inks.map(({ name }) => name)])),
      ).slice(0, 32),
    )
    context.trailerInfo.ID = context.obj([id, id])
  }

  /** A plate's pixels as an image of its separation: 255 is the solid. Source: ISO 32000-2, 8.9.5. */
  #image({ plane, name }: Pick<InkPlate, 'plane' | 'name'>, space: PDFRef, task: Task): PDFRef {
    const packer = new Deflater()
    const step = 256
    for (let top = 0; top < plane.height; top += step) {
      checkCancelled(task)
      task.progress?.(top / plane.height, `Writing ${name}`)
      packer.push(plane.rows(top, Math.min(plane.height, top + step)))
    }
    return this.#document.context.register(
      PDFRawStream.of(
        this.#document.context.obj({
          Type: 'XObject',
          Subtype: 'Image',
          Width: plane.width,
          Height: plane.height,
          ColorSpace: space,
          BitsPerComponent: 8,
          Filter: 'FlateDecode',
        }),
        packer.finish(),
      ),
    )
  }

  /** The same on every page. No step: in pixels nobody knows cuts from creases. */
  #dieImage(): { readonly image: PDFRef; readonly layer: PDFRef } | null {
    const { dieInPixels: plane, use } = this.#pages
    if (plane === null) return null
    this.#die ??= {
      image: this.#image(
        { name: dielineName, plane },
        separationSpace(this.#document.context, technicalInk({ name: dielineName, cmyk: [0, 1, 0.8, 0] })),
        {},
      ),
      layer: this.#layers.add({
        name: dielineName,
        step: null,
        prints: use === 'overlay',
        kind: 'Technical',
      }),
    }
    return this.#die
  }
  #die: { readonly image: PDFRef; readonly layer: PDFRef } | null = null

  /** Something wherever the art lies. @param scale  mm of its units; the art's size for what is drawn on a unit square */
  #placed(what: string, scale = this.#pages.sheet.art): readonly string[] {
    const { arts, trim, bleed } = this.#pages.sheet
    const [left, bottom, right, top] = bleed
    const within = `${reals(-left, -bottom, trim[0] + left + right, trim[1] + bottom + top)} re W n`
    return arts.flatMap(({ at, clip }) => [
      `q ${within}`,
      ...(clip === null ? [] : [...clip.map(closedPath), 'W* n']),
      `${reals(scale[0], 0, 0, scale[1], at[0], at[1])} cm ${what} Q`,
    ])
  }

  #add(
    size: PageSize,
    reading: Reading,
    content: readonly string[],
    resources: {
      readonly colours: Record<string, PDFRef>
      readonly images: Record<string, PDFRef>
      readonly properties: Record<string, PDFRef>
    },
  ): void {
    const { context } = this.#document
    const k = pointsPerMm
    const page = this.#document.addPage([size.width * k, size.height * k])
    const [x, y] = [size.left * k, size.bottom * k]
    const way =
      reading === 'right'
        ? [k, 0, 0, k, x, y]
        : // Seen from the far side: left and right change places.
          [-k, 0, 0, k, size.width * k - x, y]
    const body = [`${way.map(one => Number(one.toFixed(9))).join(' ')} cm`, '/Over gs', ...content].join('\n')
    page.node.set(
      PDFName.of('Contents'),
      context.register(
        PDFRawStream.of(context.obj({ Filter: 'FlateDecode' }), deflate(new TextEncoder().encode(body))),
      ),
    )
    page.node.set(
      PDFName.of('Resources'),
      context.obj({
        ExtGState: context.obj({ Over: this.#overprint }),
        ColorSpace: context.obj(resources.colours),
        XObject: context.obj(resources.images),
        Properties: context.obj(resources.properties),
        ...(this.#font === null ? {} : { Font: context.obj({ F1: this.#font }) }),
      }),
    )
    const { trim, bleed } = this.#pages.sheet
    const box = (left: number, bottom: number, right: number, top: number) => {
      const sides =
        reading === 'right'
          ? [left, right]
          : [size.width - 2 * size.left - right, size.width - 2 * size.left - left]
      return context.obj([
        (sides[0]! + size.left) * k,
        (bottom + size.bottom) * k,
        (sides[1]! + size.left) * k,
        (top + size.bottom) * k,
      ])
    }
    // ISO 32000-2, 14.11.2.
    page.node.set(PDFName.of('TrimBox'), box(0, 0, trim[0], trim[1]))
    page.node.set(PDFName.of('BleedBox'), box(-bleed[0], -bleed[1], trim[0] + bleed[2], trim[1] + bleed[3]))
    page.node.set(PDFName.of('CropBox'), context.obj([0, 0, size.width * k, size.height * k]))
  }

  #technicalLayer(technical: Technical): PDFRef {
    const known = this.#technicalLayers.get(technical.name)
    if (known) return known
    const { step, name, isDie } = technical
    const prints = isDie && this.#pages.use === 'overlay'
    const ref = this.#layers.add({ name, step, prints, kind: 'Technical' })
    this.#technicalLayers.set(name, ref)
    return ref
  }

  #marks(): PDFRef {
    this.#marksLayer ??= this.#layers.add({
      name: 'Marks and label',
      step: { group: 'Legend' },
      prints: true,
      kind: 'Technical',
    })
    return this.#marksLayer
  }
}

/** What stands for holography on a screen. */
const holoCmyk: PdfInk['cmyk'] = [0.4, 0, 0.15, 0]

const technicalInk = ({ name, cmyk }: Pick<Technical, 'name' | 'cmyk'>): PdfInk => ({
  name,
  alternate: { space: 'CMYK', values: cmyk },
  cmyk,
  opacity: null,
})
