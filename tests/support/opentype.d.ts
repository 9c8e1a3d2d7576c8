/** The part of the reader and writer of fonts that tests hold outlines against. */
declare module 'opentype.js' {
  namespace opentype {
    interface To<T extends string> {
      readonly type: T
      readonly x: number
      readonly y: number
    }
    interface QuadraticTo extends To<'Q'> {
      readonly x1: number
      readonly y1: number
    }
    interface CubicTo extends To<'C'> {
      readonly x1: number
      readonly y1: number
      readonly x2: number
      readonly y2: number
    }
    type Command = To<'M'> | To<'L'> | QuadraticTo | CubicTo | { readonly type: 'Z' }
    class Path {
      readonly commands: readonly Command[]
      moveTo(x: number, y: number): void
      lineTo(x: number, y: number): void
      curveTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void
      close(): void
    }
    class Glyph {
      readonly advanceWidth: number
      constructor(made: { name: string; unicode: number; advanceWidth: number; path: Path })
      readonly index: number
      readonly path: Path
    }
    class Font {
      constructor(made: {
        familyName: string
        styleName: string
        unitsPerEm: number
        ascender: number
        descender: number
        glyphs: Glyph[]
      })
      readonly unitsPerEm: number
      charToGlyph(letter: string): Glyph
      toArrayBuffer(): ArrayBuffer
    }
    function parse(bytes: ArrayBuffer): Font
  }
  export default opentype
}
