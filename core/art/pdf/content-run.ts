import { BadInput } from '../../base/finding.ts'
import type { PDFDict, PDFObject } from '../../base/pdf.ts'
import type { Clip, FillRule, Look, Mark, Paint, Path, TextRun } from '../ink/mark.ts'
import { moved, PathWriter } from '../ink/path.ts'
import type { ContentReader, Operand } from './content.ts'
import { dictOf, look } from './objects.ts'
import type { Reading } from './reading.ts'
import { deepestState, type Setting, type Sheet } from './sheet.ts'
import type { GraphicsState } from './state.ts'
import { TextObject } from './text-state.ts'

/** One content stream as it is run: its state, its stack and the marks that it makes. */
export class ContentRun {
  readonly object = new TextObject()
  /** The path that is being drawn, user space; a new one after each painting. */
  path = new PathWriter()
  pen: readonly [number, number] | null = null
  start: readonly [number, number] = [0, 0]
  /** Set by W and W*: the path becomes a part of the clip once it is painted. */
  nextClip: FillRule | null = null
  colorLocked: boolean
  /** How many marks there were when the text object began that it is in; null outside, and once it drew contents. */
  textFrom: number | null = null
  /** For each marked content: the optional content that it is; null for all others. */
  readonly marked: (PDFDict | null)[] = []
  readonly #stack: GraphicsState[] = []

  constructor(
    readonly setting: Setting,
    public state: GraphicsState,
    readonly out: Mark[],
    readonly reader: ContentReader,
  ) {
    this.colorLocked = setting.colorLocked
  }

  get sheet(): Sheet {
    return this.setting.sheet
  }

  get reading(): Reading {
    return this.setting.reading
  }

  /** A run at the same place whose marks go elsewhere. */
  within(out: Mark[], state: GraphicsState): ContentRun {
    const inside = new ContentRun({ ...this.setting, contents: this.contents() }, state, out, this.reader)
    inside.colorLocked = this.colorLocked
    return inside
  }

  save(): void {
    if (this.#stack.length >= deepestState)
      throw new BadInput(
        'page-too-complex',
        this.sheet.file,
        `page ${this.sheet.page}`,
        `keeps more than ${deepestState} graphics states`,
        'Export the art anew.',
      )
    this.#stack.push(this.state)
  }

  restore(): void {
    const kept = this.#stack.pop()
    if (kept !== undefined) this.state = kept
  }

  /** An entry of a kind of resource; undefined where there is none. */
  resource(kind: string, name: string): PDFObject | undefined {
    return look(dictOf(this.setting.resources ?? undefined, kind), name)
  }

  /** Optional contents around what is painted now. */
  contents(own: PDFDict | undefined = undefined): readonly PDFDict[] {
    const marked = this.marked.filter(content => content !== null)
    if (marked.length === 0 && own === undefined) return this.setting.contents
    return [...this.setting.contents, ...marked, ...(own === undefined ? [] : [own])]
  }

  /** Lets the layer of what is painted now be known, where no mark is made of it yet. */
  meetLayer(own?: PDFDict): void {
    this.sheet.layers.numberOf(this.contents(own))
  }

  look(stroked: boolean, overprint: boolean, own?: PDFDict): Look {
    const { state } = this
    return {
      clip: state.clip,
      alpha: stroked ? state.alphaStroke : state.alphaFill,
      blend: state.blend,
      softMask: state.softMask,
      ...(state.alphaIsShape ? { alphaIsShape: true } : {}),
      overprint,
      layer: this.sheet.layers.numberOf(this.contents(own)),
    }
  }

  add(mark: Mark): void {
    if (mark.alpha <= 0) return
    this.sheet.countMark(mark.kind === 'group' ? null : mark.path)
    if (!this.sheet.onlyMet) this.out.push(mark)
  }

  addFill(path: Path, rule: FillRule, paint: Paint, look: Look, text: TextRun | null): void {
    if (path.steps.length === 0 || !path.points.every(Number.isFinite)) return
    this.add({ kind: 'fill', path, rule, paint, text, ...look })
  }

  addStroke(path: Path, paint: Paint, look: Look, text: TextRun | null): void {
    const { matrix, style } = this.state
    if (path.steps.length === 0 || !path.points.every(Number.isFinite) || !matrix.every(Number.isFinite))
      return
    this.add({ kind: 'stroke', path, matrix, style, paint, text, ...look })
  }

  clipBy(path: Path, rule: FillRule): void {
    const finite = path.points.every(Number.isFinite)
    const clip: Clip = { path: finite ? path : nothing, rule, within: this.state.clip }
    this.state = { ...this.state, clip }
  }

  /** The path that was drawn, user space; drawing begins anew. */
  takePath(): Path {
    const path = this.path.path()
    this.path = new PathWriter()
    this.pen = null
    return path
  }

  onPage(path: Path): Path {
    return moved(path, this.state.matrix)
  }
}

const nothing: Path = { steps: new Uint8Array(0), points: new Float64Array(0) }

/** All operands as numbers; null where one is none or there are fewer. */
export function numbers(operands: readonly Operand[], count: number): readonly number[] | null {
  const last = operands.slice(-count)
  return last.length === count && last.every(operand => typeof operand === 'number') ? last : null
}
