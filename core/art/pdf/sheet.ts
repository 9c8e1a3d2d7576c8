import { BadInput, type Finding } from '../../base/finding.ts'
import { type PDFDict, PDFName, type PDFObject } from '../../base/pdf.ts'
import { checkCancelled } from '../../base/task.ts'
import type { Mark, Matrix, Path, SoftMask, TextRun } from '../ink/mark.ts'
import type { PdfLayers } from './layers.ts'
import type {
  ColorSpace,
  Light,
  OpenColorSpace,
  OpenedFont,
  OpenImage,
  OpenShading,
  Reading,
} from './reading.ts'
import type { GraphicsState, OpenedPattern } from './state.ts'

/** What colours, pictures and type are opened by. */
export interface Openers {
  readonly colorSpace: OpenColorSpace
  readonly shading: OpenShading
  readonly image: OpenImage
  readonly font: (dict: PDFDict) => OpenedFont
  /** A function of one number to one number, for soft masks. */
  readonly transfer: (object: PDFObject) => (value: number) => number
}

/** What a content is run in. */
export interface Setting {
  readonly sheet: Sheet
  readonly reading: Reading
  readonly resources: PDFDict | null
  /** Space of the content, as it begins, to page mm: patterns lie in it. */
  readonly base: Matrix
  /** Where marks of it can lie at all, page mm. */
  readonly extent: Path
  /** How many contents it lies in. */
  readonly depth: number
  /** Optional contents that it lies in, outermost first. */
  readonly contents: readonly PDFDict[]
  /** Colours are given from outside: operators that set them do nothing. */
  readonly colorLocked: boolean
  /** It lies right inside a group whose objects knock one another out: what counts as one object there stays one. */
  readonly inKnockout: boolean
  /** Type that all of it is a part of (glyphs that are contents). */
  readonly text: TextRun | null
}

/** Runs a content, with its marks going to `out`. */
export type RunContent = (
  content: Uint8Array,
  setting: Setting,
  state: GraphicsState,
  out: Mark[],
) => Promise<void>

/** Operators of a page with all that it runs again and again: some hundred times what a full carton has. */
const mostOperators = 20_000_000
/** Operators that one more content counts as. */
const costOfContent = 400
const mostMarks = 2_000_000
/** Numbers of all paths together: 400 MB. */
const mostNumbers = 50_000_000
export const deepestContent = 48
export const deviceGray = PDFName.of('DeviceGray')
export const deepestState = 2_000

/** One reading of a page: what all contents share, and the counts that end a page that has no end. */
export class Sheet {
  #operators = 0
  #marks = 0
  #numbers = 0
  /** Streams that are being run, to find those that run themselves. */
  readonly running = new Set<PDFObject>()
  readonly #said = new Set<string>()
  /** How many objects of no ink left what lies below as it is, by the layer that they lie in. */
  readonly vanished = new Map<number | null, number>()
  /** Whether anything was met that is not opaque, or a group. */
  transparent = false
  /** Patterns that are open, by what they are and where they lie. */
  readonly patterns = new Map<PDFObject, Map<Light | null, Map<string, OpenedPattern | null>>>()
  readonly masks = new Map<PDFObject, Map<string, SoftMask | null>>()

  constructor(
    readonly file: string,
    readonly page: number,
    readonly openers: Openers,
    /** How contents inside of others are run. */
    readonly run: RunContent,
    readonly layers: PdfLayers,
    readonly findings: Finding[],
    /** True: only fonts, inks and layers are met; no marks are made and no picture is opened. */
    readonly onlyMet: boolean,
    readonly task: Parameters<typeof checkCancelled>[0],
  ) {}

  readonly #spaces = new Map<Reading, Map<PDFDict | null, Map<PDFObject, ColorSpace>>>()

  spaceOf(reading: Reading, resources: PDFDict | null, object: PDFObject): ColorSpace | undefined {
    return this.#spaces.get(reading)?.get(resources)?.get(object)
  }

  /** Keeps a space that was opened: pages choose the same few again and again. */
  keepSpace(reading: Reading, resources: PDFDict | null, object: PDFObject, space: ColorSpace): void {
    const of = this.#spaces.get(reading) ?? new Map<PDFDict | null, Map<PDFObject, ColorSpace>>()
    const within = of.get(resources) ?? new Map<PDFObject, ColorSpace>()
    this.#spaces.set(reading, of.set(resources, within.set(object, space)))
  }

  countOperator(): void {
    this.#operators++
    if (this.#operators % 1024 === 0) checkCancelled(this.task)
    if (this.#operators > mostOperators) throw this.#tooMuch(`runs more than ${mostOperators} operators`)
  }

  /** A content that is run (a form, a cell, a glyph) costs more than its operators: a few can name one another without end. */
  countContent(): void {
    this.#operators += costOfContent
    checkCancelled(this.task)
    if (this.#operators > mostOperators)
      throw this.#tooMuch('paints forms inside of forms more often than can be followed')
  }

  countMark(path: Path | null): void {
    this.#marks++
    this.#numbers += path?.points.length ?? 0
    if (this.#marks > mostMarks) throw this.#tooMuch(`has more than ${mostMarks} objects`)
    if (this.#numbers > mostNumbers) throw this.#tooMuch('has outlines with more points than can be held')
  }

  /** Adds a finding once for each object that it is about. */
  say(
    code: string,
    where: string,
    message: string,
    fix: string,
    severity: Finding['severity'] = 'warning',
  ): void {
    const key = `${code} ${where}`
    if (this.#said.has(key)) return
    this.#said.add(key)
    this.findings.push({ severity, code, where: `page ${this.page}, ${where}`, message, fix })
  }

  #tooMuch(problem: string): BadInput {
    return new BadInput(
      'page-too-complex',
      this.file,
      `page ${this.page}`,
      problem,
      'Export it with fewer objects, for example with fine patterns as pictures.',
    )
  }
}

/** What refuses a page as a whole, wherever on it it was met. */
const ofPage = new Set(['page-too-complex', 'too-many-inks'])

/** The fault, where it is of one object and the page can go on without it; throws all others on. */
export function faultOfObject(error: unknown): BadInput {
  if (error instanceof BadInput && !ofPage.has(error.code)) return error
  throw error
}
