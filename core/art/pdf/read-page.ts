import { BadInput, type Finding } from '../../base/finding.ts'
import type { ReadGlyphs } from '../../base/glyph-reader.ts'
import { type ImageCodecs, openImageCodecs } from '../../base/image-codecs.ts'
import type { ByteSource } from '../../base/source.ts'
import type { Task } from '../../base/task.ts'
import type { ColorEngine } from '../../color/profile.ts'
import { readProfileHeader } from '../../color/profile-header.ts'
import type { InkPage } from '../ink/page.ts'
import { frameOf } from './boxes.ts'
import { openColorSpace } from './color-space.ts'
import { openPdf, type PdfFile } from './document.ts'
import { openFonts } from './fonts.ts'
import { openFunction } from './function.ts'
import { openImage } from './image.ts'
import { makeInkSet } from './ink-set.ts'
import { nameOf } from './objects.ts'
import { type PageParts, readPage } from './page.ts'
import type { Separator } from './reading.ts'
import { makeSeparator } from './separate.ts'
import { openShading } from './shading.ts'
import { type3Font } from './type3.ts'

/** What lies with the program and pages are read by. */
export interface PageData {
  /** Outlines of glyphs, by the fonts that ship. */
  readonly glyphs: ReadGlyphs
  /** Programs that images are unpacked by, by file name. */
  readonly codec: (name: string) => Promise<Uint8Array>
  /** Profile of the print condition for pages that name none. */
  readonly condition: () => Promise<Uint8Array>
  readonly engine: () => Promise<ColorEngine>
}

export interface PageChoice {
  /** 1 is the first. */
  readonly page?: number
  readonly password?: string
}

/**
 * Reads a page of a PDF as inks, marks and layers. Throws BadInput: what {@link openPdf}, pages, streams, inks, fonts and
 * profiles cannot be read for. All that is wrong with single objects is a finding of the page.
 */
export async function readInkPage(
  source: ByteSource,
  choice: PageChoice,
  data: PageData,
  task?: Task,
): Promise<InkPage> {
  const file = await openPdf(source, choice.password ?? null)
  const engine = await data.engine()
  const shipped = await data.condition()
  const codecs: ImageCodecs = openImageCodecs(data.codec)
  const open: { close(): void }[] = []
  const parts: PageParts = {
    colorSpace: openColorSpace,
    shading: openShading,
    image: openImage,
    transfer: object => {
      const { run } = openFunction(object, file.name, 'soft mask, TR')
      const out = new Float64Array(1)
      return value => {
        run([value], out)
        return Math.min(1, Math.max(0, out[0]!))
      }
    },
    inkSet: hints => makeInkSet(file.name, hints),
    reading: (begun, intent) => {
      const separator = separatorOf(engine, intent, shipped, file.name, begun.findings)
      open.push(separator)
      return { ...begun, separator, codecs }
    },
    contentFont: dict => (nameOf(dict, 'Subtype') === 'Type3' ? type3Font(dict) : null),
    fonts: (reading, shown) => openFonts(reading, shown, data.glyphs),
  }
  try {
    return await readPage(file, choice.page ?? 1, parts, task)
  } finally {
    for (const separator of open) separator.close()
  }
}

/** By the page's own print condition; by the one that ships where it names none, or one that is not for printing in CMYK. */
function separatorOf(
  engine: ColorEngine,
  intent: InkPage['outputIntent'],
  shipped: Uint8Array,
  file: string,
  findings: Finding[],
): Separator & { close(): void } {
  const profile = intent?.profile ?? null
  if (intent === null || profile === null) return makeSeparator(engine, shipped, file, findings)
  try {
    if (readProfileHeader(profile, file, 'Name another output intent').space === 'CMYK')
      return makeSeparator(engine, profile, file, findings)
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
  }
  findings.push({
    severity: 'warning',
    code: 'output-intent-not-cmyk',
    where: `output intent "${intent.name}"`,
    message:
      'Its profile is none for printing in CMYK; colours that are no inks are separated for the usual condition.',
    fix: 'Name the print condition of the carton as output intent.',
  })
  return makeSeparator(engine, shipped, file, findings)
}

/** What can be said of a file before a page is chosen. */
export interface PageList {
  /** Of the box that is read, mm; 0 for a page without area. */
  readonly pages: readonly { readonly widthMm: number; readonly heightMm: number }[]
  /** What encrypted it, in words; null where nothing did. */
  readonly encryptedBy: string | null
}

/** The pages of a PDF. Throws BadInput as {@link openPdf} does, `password-needed` among others. */
export async function pagesOf(source: ByteSource, password?: string): Promise<PageList> {
  const file = await openPdf(source, password ?? null)
  return { pages: file.pages.map((_, at) => sizeOf(file, at)), encryptedBy: file.encryptedBy }
}

function sizeOf(file: PdfFile, at: number): PageList['pages'][number] {
  try {
    const { widthMm, heightMm } = frameOf(file.name, at + 1, file.pages[at]!, [])
    return { widthMm, heightMm }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return { widthMm: 0, heightMm: 0 }
  }
}
