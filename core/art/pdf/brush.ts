import type { Matrix, TextRun } from '../ink/mark.ts'
import { times } from '../ink/matrix.ts'
import { PathWriter } from '../ink/path.ts'
import type { Glyph } from './reading.ts'
import { emMatrix, type TextObject, type TextStage } from './text-state.ts'

/**
 * Draws the glyphs of one showing operator. Glyphs that are filled or stroked alone become one mark: within a text object
 * they do not lie over one another (text knockout, ISO 32000-2, 9.3.8). Filled and stroked ones are laid down one by one.
 */
export class Brush {
  #path = new PathWriter()
  readonly #fills: boolean
  readonly #strokes: boolean

  constructor(
    private readonly stage: TextStage,
    private readonly object: TextObject,
    private readonly run: TextRun,
  ) {
    const { mode } = stage.text
    const look = mode % 4
    this.#fills = look === 0 || look === 2
    this.#strokes = look === 1 || look === 2
    // Also glyphs without an outline count: a clip of nothing lets nothing through.
    if (mode >= 4) object.clip ??= new PathWriter()
  }

  draw({ outline, origin }: Glyph): void {
    if (outline === null || outline.steps.length === 0) return
    const { ctm, text } = this.stage
    const em = emMatrix(text, this.object)
    const user: Matrix = origin === null ? em : times([1, 0, 0, 1, -origin[0], -origin[1]], em)
    const page = times(user, ctm)
    if (text.mode >= 4) this.object.clip?.add(outline, page)
    if (this.#fills && this.#strokes) {
      const onPage = new PathWriter()
      const own = new PathWriter()
      onPage.add(outline, page)
      own.add(outline, user)
      this.stage.fillAndStroke(onPage.path(), own.path(), this.run)
      return
    }
    if (this.#fills) this.#path.add(outline, page)
    else if (this.#strokes) this.#path.add(outline, user)
    if (this.#path.length > mostNumbers) this.finish()
  }

  finish(): void {
    if (this.#path.isEmpty) return
    const path = this.#path.path()
    this.#path = new PathWriter()
    if (this.#fills) this.stage.fill(path, this.run)
    else this.stage.stroke(path, this.run)
  }
}

/** Numbers of one mark; more go on in the next, so that whoever counts marks can stop a string without end. */
const mostNumbers = 200_000
