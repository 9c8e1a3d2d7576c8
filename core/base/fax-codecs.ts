/** How a CCITT picture is coded. Source: ISO 32000-2, table 11. */
export interface FaxCoding {
  /** Below 0: group 4; 0: group 3 of one dimension; above: of two. */
  readonly k: number
  readonly columns: number
  /** 0: not said. */
  readonly rows: number
  readonly endOfLine: boolean
  readonly byteAlign: boolean
  readonly blackIs1: boolean
}

/** What `jbig2.wasm` of pdfjs-dist 5.6 gives and takes; its build shortens the names. */
interface Program {
  readonly i: { readonly buffer: ArrayBuffer; grow(pages: number): number }
  /** Starts it. */
  readonly j: () => void
  readonly k: (bytes: number) => number
  readonly l: (address: number) => void
  readonly m: (
    at: number,
    size: number,
    width: number,
    height: number,
    globals: number,
    size2: number,
  ) => void
  readonly n: (
    at: number,
    size: number,
    width: number,
    height: number,
    k: number,
    endOfLine: number,
    byteAlign: number,
    blackIs1: number,
    columns: number,
    rows: number,
  ) => void
}

const pageSize = 65536
const mostPages = 32768
/** Source: ITU-T T.88, 7.2. */
const shortestPart = 11

/** See `ImageCodecs`. */
export interface FaxCodecs {
  jbig2(bytes: Uint8Array, globals: Uint8Array | null, width: number, height: number): Uint8Array
  fax(bytes: Uint8Array, height: number, coding: FaxCoding): Uint8Array
}

interface Running {
  readonly program: Program
  readonly heap: () => Uint8Array
  /** The picture that was made since the last call; null: none. */
  readonly take: () => Uint8Array | null
}

function start(module: WebAssembly.Module): Running {
  let made: Uint8Array | null = null
  const heap = () => new Uint8Array(program.i.buffer)
  const grow = (wanted: number): number => {
    const size = program.i.buffer.byteLength
    // A fifth more than is asked, so that growing is rare.
    const pages = Math.min(mostPages, Math.ceil(Math.max(wanted >>> 0, size * 1.2) / pageSize))
    if (pages * pageSize < wanted >>> 0) return 0
    try {
      program.i.grow(pages - size / pageSize)
      return 1
    } catch {
      return 0
    }
  }
  const stop = (): never => {
    throw new Error('the decoder gave up')
  }
  const host = {
    a: stop,
    b: () => {},
    // It asks for a clock that it never needs here.
    c: () => 0,
    d: grow,
    e: stop,
    f: (line: number, pitch: number, offset: number) =>
      made?.set(heap().subarray(line, line + pitch), offset),
    g: (size: number) => {
      made = new Uint8Array(size)
    },
    h: (at: number, pitch: number, held: number, height: number) => {
      const out = new Uint8Array(pitch * height)
      for (let y = 0; y < height; y++)
        out.set(heap().subarray(at + y * held, at + y * held + pitch), y * pitch)
      made = out
    },
  }
  const program = new WebAssembly.Instance(module, { a: host }).exports as unknown as Program
  program.j()
  const take = () => {
    const out = made
    made = null
    return out
  }
  return { program, heap, take }
}

/** Bytes of the program's memory, which never shrinks, that are kept from picture to picture. */
const mostKept = 2 ** 28

/** The program of both decoders of pictures of one bit. It is started again after a picture that it gave up at, or a large one. */
export function openFaxCodecs(wasm: Uint8Array): FaxCodecs {
  const module = new WebAssembly.Module(wasm)
  let running: Running | null = null
  const run = (
    bytes: Uint8Array,
    globals: Uint8Array | null,
    decode: (program: Program, at: number, also: number) => void,
  ): Uint8Array => {
    const { program, heap, take } = running ?? start(module)
    running = null
    const put = (given: Uint8Array): number => {
      const at = program.k(Math.max(1, given.length))
      if (at === 0) throw new Error('the picture is too large to be decoded')
      heap().set(given, at)
      return at
    }
    const at = put(bytes)
    const also = globals === null ? 0 : put(globals)
    decode(program, at, also)
    program.l(at)
    if (also !== 0) program.l(also)
    const out = take()
    if (out === null) throw new Error('nothing could be decoded')
    if (program.i.buffer.byteLength <= mostKept) running = { program, heap, take }
    return out
  }
  return {
    jbig2: (bytes, globals, width, height) => {
      // The program takes less than the head of one part for a picture without any.
      if (bytes.length < shortestPart) throw new Error(`there are only ${bytes.length} bytes`)
      return run(bytes, globals, (program, at, also) =>
        program.m(at, bytes.length, width, height, also, globals?.length ?? 0),
      )
    },
    fax: (bytes, height, coding) => {
      const decode = (blackIs1: boolean) =>
        run(bytes, null, (program, at) =>
          program.n(
            at,
            bytes.length,
            coding.columns,
            height,
            coding.k,
            coding.endOfLine ? 1 : 0,
            coding.byteAlign ? 1 : 0,
            blackIs1 ? 1 : 0,
            coding.columns,
            coding.rows,
          ),
        )
      const out = decode(coding.blackIs1)
      const row = Math.ceil(coding.columns / 8)
      let rows = Math.floor(out.length / row)
      const isEmpty = (of: Uint8Array, y: number) =>
        of.subarray(y * row, (y + 1) * row).every(byte => byte === 0)
      if (rows === 0 || !isEmpty(out, rows - 1)) return out
      // Rows that the data lack stay 0 whichever colour 0 is; a row that is there changes with it.
      const other = decode(!coding.blackIs1)
      while (rows > 0 && isEmpty(out, rows - 1) && isEmpty(other, rows - 1)) rows--
      return out.subarray(0, rows * row)
    },
  }
}
