import type { PDFDict } from '../../base/pdf.ts'
import { PDFRawStream } from '../../base/pdf.ts'
import type { Matrix, TextRun } from '../ink/mark.ts'
import type { ContentRun } from './content-run.ts'
import { contentOf } from './contents.ts'
import { dictOf } from './objects.ts'
import { fillAndStroke, fillPath, strokePath } from './paint.ts'
import { deepestContent } from './sheet.ts'
import type { TextStage } from './text-state.ts'

/** Where the type of a content is shown. */
export function textStage(run: ContentRun): TextStage {
  return {
    get text() {
      return run.state.text
    },
    set text(text) {
      run.state = { ...run.state, text }
    },
    get ctm() {
      return run.state.matrix
    },
    font: name => fontOf(run, dictOf(dictOf(run.setting.resources ?? undefined, 'Font'), name), name),
    fill: (path, text) => fillPath(run, path, 'nonzero', text),
    stroke: (path, text) => strokePath(run, path, text),
    fillAndStroke: (onPage, path, text) => fillAndStroke(run, onPage, 'nonzero', path, text),
    clip: path => run.clipBy(path, 'nonzero'),
    type3: async (content, matrix, resources, text) => {
      if (content instanceof PDFRawStream) await runGlyph(run, content, matrix, resources, text)
    },
  }
}

/** The font of a dictionary, opened; null, with a finding, where there is none. */
export function fontOf(run: ContentRun, dict: PDFDict | undefined, name: string) {
  if (dict !== undefined) return run.sheet.openers.font(dict)
  run.sheet.say(
    'font-not-there',
    `font "${name}"`,
    'The page sets type in a font that it does not have; that type is missing.',
    'Export the art anew with its fonts, or with type as outlines.',
    'error',
  )
  return null
}

/** A glyph that is a content (Type 3): its marks are parts of the type that it is shown in. */
async function runGlyph(
  run: ContentRun,
  content: PDFRawStream,
  matrix: Matrix,
  resources: PDFDict | null,
  text: TextRun,
): Promise<void> {
  const { sheet, setting } = run
  run.textFrom = null
  if (sheet.running.has(content) || setting.depth >= deepestContent) return
  sheet.running.add(content)
  await sheet.run(
    contentOf(sheet, content, `glyph of font "${text.fontName}"`),
    {
      ...setting,
      resources: resources ?? setting.resources,
      base: matrix,
      depth: setting.depth + 1,
      contents: run.contents(),
      text: setting.text ?? text,
    },
    { ...run.state, matrix },
    run.out,
  )
  sheet.running.delete(content)
}
