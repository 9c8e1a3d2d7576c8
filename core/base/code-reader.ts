import { prepareZXingModule, type ReadResult, readBarcodes } from 'zxing-wasm/reader'

/** Kinds of code that are looked for. */
export type CodeKind = 'EAN-13' | 'EAN-8' | 'UPC-A' | 'UPC-E' | 'ITF' | 'Code 128' | 'Data Matrix' | 'QR'

/** A grey picture, one byte a pixel, row by row, y down; 0 is black. */
export interface GreyPicture {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

/** Pixels of the picture, y down; (0, 0) is the upper left corner of the first pixel. */
export type PicturePoint = readonly [x: number, y: number]

export interface ReadCode {
  readonly kind: CodeKind
  readonly text: string
  /** In reading direction: start above, end above, end below, start below; the outer edges of the symbol. */
  readonly corners: readonly [PicturePoint, PicturePoint, PicturePoint, PicturePoint]
  /** Light bars on dark ground. */
  readonly reversed: boolean
  /** Of a matrix code: its modules, row by row in reading direction, 1 dark; null for bars. */
  readonly modules: { readonly columns: number; readonly rows: number; readonly dark: Uint8Array } | null
}

/** Finds codes in pictures and decodes them. Open one a thread and keep it. */
export interface CodeReader {
  /** Every code of a picture that can be read, in no order; none for a picture without. */
  read(picture: GreyPicture): Promise<readonly ReadCode[]>
}

/** @param wasm the reader's program (`zxing_reader.wasm` of the package); nothing is fetched */
export async function openCodeReader(wasm: Uint8Array): Promise<CodeReader> {
  // Bytes that are handed over would stay in memory beside the program that was made of them.
  const program = new WebAssembly.Module(wasm)
  const instantiateWasm = (imports: object, receive: (made: WebAssembly.Instance) => void): object => {
    receive(new WebAssembly.Instance(program, imports))
    return {}
  }
  await prepareZXingModule({ overrides: { instantiateWasm }, fireImmediately: true })
  return {
    read: async picture => {
      const found = await readBarcodes(coloured(picture), { ...settings, formats: [...formats.keys()] })
      // Of light bars the reader's program knows nothing: they are dark ones in the negative.
      const negative = { ...picture, data: picture.data.map(value => 255 - value) }
      const light = await readBarcodes(coloured(negative), { ...settings, formats: [...barFormats] })
      return [
        ...found.flatMap(readOf),
        ...light.flatMap(readOf).map(code => ({ ...code, reversed: !code.reversed })),
      ]
    },
  }
}

const formats = new Map<string, CodeKind>([
  ['EAN13', 'EAN-13'],
  ['EAN8', 'EAN-8'],
  ['UPCA', 'UPC-A'],
  ['UPCE', 'UPC-E'],
  ['ITF', 'ITF'],
  ['Code128', 'Code 128'],
  ['DataMatrix', 'Data Matrix'],
  ['QRCode', 'QR'],
]) as ReadonlyMap<ReadFormat, CodeKind>
type ReadFormat = 'EAN13' | 'EAN8' | 'UPCA' | 'UPCE' | 'ITF' | 'Code128' | 'DataMatrix' | 'QRCode'

const barFormats = ['EAN13', 'EAN8', 'UPCA', 'UPCE', 'ITF', 'Code128'] as const

const settings = { tryHarder: true, tryRotate: true, tryInvert: true, textMode: 'Plain' } as const

/** The reader's program takes pictures of four bytes a pixel. */
function coloured({ width, height, data }: GreyPicture) {
  const pixels = new Uint8ClampedArray(4 * width * height).fill(255)
  for (let i = 0, at = 0; i < width * height; i++, at += 4) {
    const grey = data[i]!
    pixels[at] = grey
    pixels[at + 1] = grey
    pixels[at + 2] = grey
  }
  return { data: pixels, width, height, colorSpace: 'srgb' as const }
}

function readOf({ format, text, position, isInverted, symbol, isValid }: ReadResult): readonly ReadCode[] {
  const kind = formats.get(format as ReadFormat)
  if (kind === undefined || !isValid) return []
  const { topLeft, topRight, bottomRight, bottomLeft } = position
  const matrix = kind === 'Data Matrix' || kind === 'QR'
  return [
    {
      kind: kind === 'EAN-13' && text.startsWith('0') ? 'UPC-A' : kind,
      text: kind === 'EAN-13' && text.startsWith('0') ? text.slice(1) : text,
      corners: outer([topLeft, topRight, bottomRight, bottomLeft]),
      reversed: isInverted,
      modules: matrix
        ? {
            columns: symbol.width,
            rows: symbol.height,
            dark: Uint8Array.from(symbol.data, value => (value < 128 ? 1 : 0)),
          }
        : null,
    },
  ]
}

/** The reader names the pixels that the corners fall into; their outer corners bound the symbol. */
function outer(points: readonly { readonly x: number; readonly y: number }[]): ReadCode['corners'] {
  const middleX = points.reduce((sum, { x }) => sum + x, 0) / points.length
  const middleY = points.reduce((sum, { y }) => sum + y, 0) / points.length
  const [a, b, c, d] = points.map(
    ({ x, y }): PicturePoint => [x > middleX ? x + 1 : x, y > middleY ? y + 1 : y],
  )
  return [a!, b!, c!, d!]
}
