import type { PDFDict, PDFObject } from '../../base/pdf.ts'
import type { Matrix, Path, TextRun } from '../ink/mark.ts'
import { identity, times } from '../ink/matrix.ts'
import type { PathWriter } from '../ink/path.ts'
import type { OpenedFont } from './reading.ts'

/** What the graphics state says of text; q and Q keep it with the rest (ISO 32000-2, 9.3.1). */
export interface TextState {
  /** Unscaled text space units. */
  readonly charSpacing: number
  readonly wordSpacing: number
  /** 1 = as wide as the font is. */
  readonly scale: number
  readonly leading: number
  readonly rise: number
  readonly font: OpenedFont | null
  readonly size: number
  /** 0..7: fill, stroke, both, neither; the same and clip. */
  readonly mode: number
}

export const initialText: TextState = {
  charSpacing: 0,
  wordSpacing: 0,
  scale: 1,
  leading: 0,
  rise: 0,
  font: null,
  size: 0,
  mode: 0,
}

/** Where type is shown: the interpreter's side. */
export interface TextStage {
  /** Of the graphics state there is now. */
  text: TextState
  /** User space to page mm, now. */
  readonly ctm: Matrix
  /** A font of the resources; null where there is none. */
  font(name: string): OpenedFont | null
  /** Page mm, nonzero, in the colour of fills. */
  fill(path: Path, run: TextRun): void
  /** User space, with its pen and colour. */
  stroke(path: Path, run: TextRun): void
  /** One glyph: page mm, and the same in user space. */
  fillAndStroke(onPage: Path, path: Path, run: TextRun): void
  /** At the end of a text object: page mm, nonzero; a path without steps lets nothing through. */
  clip(path: Path): void
  /** Runs the content of a Type 3 glyph. `matrix`: glyph space to page mm. */
  type3(content: PDFObject, matrix: Matrix, resources: PDFDict | null, run: TextRun): void | Promise<void>
}

/** The text object that a content stream is in: one for each content that is run. */
export class TextObject {
  matrix: Matrix = identity
  line: Matrix = identity
  /** What is to become the clip at its end; null where no glyph was added. */
  clip: PathWriter | null = null
}

/** Space of a glyph whose em is 1 to user space. */
export function emMatrix({ size, scale, rise }: TextState, { matrix }: TextObject): Matrix {
  return times([size * scale, 0, 0, size, 0, rise], matrix)
}
