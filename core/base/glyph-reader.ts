import type { Face, Objects, Shown } from 'pdfjs-dist/legacy/build/pdf.mjs'

/** Bytes of a file that ships with the package, by its name: a font that stands in, a table of character codes. */
export type FontData = (name: string) => Promise<Uint8Array>

/** A glyph as a font gives it for a piece of a string. */
export interface ReadGlyph {
  readonly outline: readonly ReadOutline[]
  /** How far the pen moves, ems: to the right, or up (so mostly less than 0) in vertical writing. */
  readonly advance: number
  /** Vertical writing: from the horizontal origin to the vertical one, ems. */
  readonly origin: readonly [number, number] | null
  readonly unicode: string
  /** The one-byte code 32. */
  readonly isSpace: boolean
  readonly isInFont: boolean
}

/** Part of a glyph: most have one, an accented letter of an old font two. */
export interface ReadOutline {
  /** The em is 1, y up: 0 x y moves, 1 x y draws a line, 2 and six numbers a cubic, 3 and four a quadratic, 4 closes. */
  readonly steps: Float32Array
  /** Where it stands, ems from the horizontal origin. */
  readonly x: number
  readonly y: number
}

export interface ReadStrings {
  /** Nothing was found to draw it with. */
  readonly missing: boolean
  readonly vertical: boolean
  /** By the number that stood before the string. Equal codes are one object. */
  readonly strings: ReadonlyMap<number, readonly ReadGlyph[]>
}

/** {@link readGlyphs} where and by what the shell does it. */
export type ReadGlyphs = (pdf: Uint8Array) => Promise<readonly ReadStrings[]>

/**
 * The glyphs of the strings on the first page of a PDF. Before each string stands its number as a line width (`7 w`);
 * before the first of each font stands the font. A font that cannot be read gives no glyphs.
 * @param pdf       given away: its buffer is taken
 * @param fontData  asked for `standard_fonts/NAME` and `cmaps/NAME`; nothing is fetched
 * @returns one entry a font, in the order of the page
 */
export async function readGlyphs(pdf: Uint8Array, fontData: FontData): Promise<readonly ReadStrings[]> {
  const { OPS, getDocument } = await openPackage()
  const loading = getDocument({
    ...settings,
    data: pdf,
    BinaryDataFactory: class {
      async fetch({ kind, filename }: { readonly kind: string; readonly filename: string }) {
        return fontData(`${kind === 'cMapUrl' ? 'cmaps' : 'standard_fonts'}/${filename}`)
      }
    },
  })
  try {
    const page = await (await loading.promise).getPage(1)
    const { fnArray, argsArray } = await page.getOperatorList()
    const read: (ReadStrings & { readonly strings: Map<number, readonly ReadGlyph[]> })[] = []
    let face: Face | null = null
    let known = new Map<string, ReadGlyph>()
    let number = -1
    for (const [at, operator] of fnArray.entries()) {
      const operands = argsArray[at] as readonly unknown[]
      if (operator === OPS.setFont) {
        const name = operands[0] as string
        face = page.commonObjs.has(name) ? (page.commonObjs.get(name) as Face) : null
        known = new Map()
        read.push({
          missing: face === null || face.missingFile === true,
          vertical: face?.vertical === true,
          strings: new Map(),
        })
      } else if (operator === OPS.setLineWidth) number = operands[0] as number
      else if (operator === OPS.showText && face !== null) {
        const glyphs: ReadGlyph[] = []
        for (const shown of operands[0] as readonly (Shown | number)[]) {
          if (typeof shown === 'number') continue
          const key = `${shown.originalCharCode} ${shown.isSpace}`
          const glyph = known.get(key) ?? glyphOf(page.commonObjs, face, shown)
          known.set(key, glyph)
          glyphs.push(glyph)
        }
        read.at(-1)!.strings.set(number, glyphs)
      }
    }
    return read
  } finally {
    await loading.destroy()
  }
}

const settings = {
  // Outlines instead of faces of a browser; none of the machine's fonts, so that every machine draws the same.
  disableFontFace: true,
  fontExtraProperties: true,
  useSystemFonts: false,
  // Nothing is fetched or run, and pictures are not this reader's work.
  useWorkerFetch: false,
  useWasm: false,
  isEvalSupported: false,
  isOffscreenCanvasSupported: false,
  isImageDecoderSupported: false,
  enableXfa: false,
  cMapPacked: true,
  verbosity: 0,
} as const

function glyphOf(objects: Objects, face: Face, shown: Shown): ReadGlyph {
  const em = face.fontMatrix?.[0] ?? 0.001
  const width = (shown.width ?? 0) * em
  const vertical = face.vertical === true
  const usual = face.defaultVMetrics ?? [-1000, 500, 880]
  const [down, originX, originY] = shown.vmetric ?? usual
  // Where a font says nothing of a glyph, its vertical origin lies over the middle of the glyph's own width.
  const says = originX !== usual[1] || originY !== usual[2] || down !== usual[0]
  const part = (character: string, x: number, y: number): readonly ReadOutline[] => {
    const id = `${face.loadedName}_path_${character}`
    if (!shown.isInFont || !objects.has(id)) return []
    const { path } = objects.get(id) as { readonly path: Float32Array }
    return [{ steps: path, x, y }]
  }
  const { accent } = shown
  return {
    outline: [
      ...part(shown.fontChar, 0, 0),
      ...(accent ? part(accent.fontChar, accent.offset.x, accent.offset.y) : []),
    ],
    advance: vertical ? down * em : width,
    origin: vertical ? [says ? originX * em : width / 2, originY * em] : null,
    unicode: shown.unicode,
    isSpace: shown.isSpace,
    isInFont: shown.isInFont,
  }
}

type Package = typeof import('pdfjs-dist/legacy/build/pdf.mjs')
let opened: Promise<Package> | null = null

/**
 * The package, opened once a thread and only when there is type to read. It looks for names of a browser, which are lent
 * to it while it starts; what it leaves in the global scope beside its own second half is taken out again.
 */
function openPackage(): Promise<Package> {
  opened ??= start()
  return opened
}

async function start(): Promise<Package> {
  const scope = globalThis as Record<string, unknown>
  const before = new Set(Object.getOwnPropertyNames(scope))
  for (const name of ['DOMMatrix', 'ImageData', 'Path2D']) scope[name] ??= class {}
  // Where halves exist it keeps outlines in them: eleven bits are too coarse for large type. It asks for the name until
  // its first glyph, so the thread does without; nothing else here uses it.
  delete scope.Float16Array
  try {
    await import('pdfjs-dist/legacy/build/pdf.worker.mjs')
    return await import('pdfjs-dist/legacy/build/pdf.mjs')
  } finally {
    for (const name of guests) if (!before.has(name)) delete scope[name]
  }
}

const guests = ['DOMMatrix', 'ImageData', 'Path2D', 'self', 'navigator', 'pdfjsLib', '_pdfjsTestingUtils']
