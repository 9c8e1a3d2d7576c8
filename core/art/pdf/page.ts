import { BadInput, type Finding } from '../../base/finding.ts'
import type { PDFDict } from '../../base/pdf.ts'
import { partOf, type Task } from '../../base/task.ts'
import type { Mark } from '../ink/mark.ts'
import type { InkPage } from '../ink/page.ts'
import { boxPath } from '../ink/path.ts'
import { annotationFindings } from './annotations.ts'
import { frameOf, type PageFrame } from './boxes.ts'
import { pageContent } from './contents.ts'
import type { PdfFile } from './document.ts'
import { blendingOf, readingIn } from './group-space.ts'
import type { InkHint } from './ink-set.ts'
import { intentOf } from './intent.ts'
import { runContent } from './interpret.ts'
import { PdfLayers } from './layers.ts'
import { hintsOf } from './mixing-hints.ts'
import { dictOf, look } from './objects.ts'
import type { PdfPage } from './pages.ts'
import type { InkSet, OpenedFont, Reading } from './reading.ts'
import { deviceGray, type Openers, Sheet } from './sheet.ts'
import { ShownStrings } from './shown.ts'
import { initialState } from './state.ts'
import { vanishedFindings } from './vanished.ts'

/** What a page is read with, beside what lies in the file. */
export interface PageParts extends Omit<Openers, 'font'> {
  readonly inkSet: (hints: ReadonlyMap<string, InkHint>) => InkSet
  /** Makes whole what colours and pictures are opened by. */
  readonly reading: (begun: BegunReading, intent: InkPage['outputIntent']) => Reading
  /** A font whose glyphs are contents; null for others. */
  readonly contentFont: (dict: PDFDict) => OpenedFont | null
  readonly fonts: (
    reading: Reading,
    shown: ReadonlyMap<PDFDict, readonly Uint8Array[]>,
  ) => Promise<ReadonlyMap<PDFDict, OpenedFont>>
}
export type BegunReading = Pick<
  Reading,
  'context' | 'file' | 'inks' | 'aim' | 'light' | 'findings' | 'inexact' | 'task'
>

/**
 * Reads a page as inks, marks and layers. Its content is run twice: once to meet the type, inks and layers that it has,
 * then for its marks.
 * @param number  1 is the first
 * @throws BadInput `page-missing`, `page-no-area`, `page-too-complex`, and what streams and inks throw
 */
export async function readPage(
  file: PdfFile,
  number: number,
  parts: PageParts,
  task?: Task,
): Promise<InkPage> {
  const page = pageAt(file, number)
  const findings: Finding[] = []
  const inexact: Finding[] = []
  const frame = frameOf(file.name, number, page, findings)
  const intent = intentOf(file, page.dict, findings)
  const begun = {
    context: file.context,
    file: file.name,
    inks: parts.inkSet(hintsOf(file)),
    aim: 'inks' as const,
    light: null,
    task,
  }
  const layers = new PdfLayers(file.catalog)
  const strings = new ShownStrings(parts.contentFont)
  const run = async (reading: Reading, font: (dict: PDFDict) => OpenedFont, onlyMet: boolean) => {
    const sheet = new Sheet(
      file.name,
      number,
      { ...parts, font },
      runContent,
      layers,
      reading.findings,
      onlyMet,
      onlyMet ? partOf(task, 0, 0.3) : partOf(task, 0.3, 1),
    )
    const marks = await marksOf(sheet, reading, page, frame)
    return { marks, transparent: sheet.transparent, vanished: sheet.vanished }
  }
  const met = parts.reading({ ...begun, findings: [], inexact: [] }, intent)
  const { transparent } = await run(met, dict => strings.font(dict), true)
  const settled = layers.settle()
  const reading = parts.reading({ ...begun, findings, inexact }, intent)
  const fonts = await parts.fonts(reading, strings.shown)
  // A page that is opaque all over is laid down as it is, whatever it would blend in: so do those who print it.
  const blended = transparent ? readingIn(reading, dictOf(page.dict, 'Group')) : reading
  const { marks, vanished } = await run(blended, dict => fonts.get(dict) ?? strings.font(dict), false)
  findings.push(...vanishedFindings(vanished, settled))
  findings.push(...annotationFindings(page.dict, number))
  return {
    widthMm: frame.widthMm,
    heightMm: frame.heightMm,
    boxes: frame.boxes,
    inks: begun.inks.list,
    marks,
    ...(blended === reading ? {} : { blending: blendingOf(blended, reading) }),
    layers: settled,
    fonts: [...new Map([...fonts.values()].map(font => [font.name, font])).values()].map(
      ({ name, embedded }) => ({ name, embedded }),
    ),
    outputIntent: intent,
    inexact,
    findings,
  }
}

function pageAt(file: PdfFile, number: number): PdfPage {
  const page = file.pages[number - 1]
  if (page !== undefined) return page
  const count = file.pages.length
  throw new BadInput(
    'page-missing',
    file.name,
    `page ${number}`,
    `the file has ${count === 1 ? 'one page' : `${count} pages`}`,
    count === 1 ? 'Choose page 1.' : `Choose a page from 1 to ${count}.`,
  )
}

async function marksOf(
  sheet: Sheet,
  reading: Reading,
  page: PdfPage,
  frame: PageFrame,
): Promise<readonly Mark[]> {
  const marks: Mark[] = []
  const grey = sheet.openers.colorSpace(reading, deviceGray, null)
  await runContent(
    pageContent(sheet, look(page.dict, 'Contents')),
    {
      sheet,
      reading,
      resources: page.resources,
      base: frame.matrix,
      extent: boxPath(frame.boxes.media),
      depth: 0,
      contents: [],
      colorLocked: false,
      inKnockout: false,
      text: null,
    },
    initialState(frame.matrix, null, grey),
    marks,
  )
  return marks
}
