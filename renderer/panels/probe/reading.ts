import type { OverScreen } from '../../../core/color/over-screen.ts'

/** What is read at a spot, ready to be shown. */
export interface SpotReading {
  /** What the picture shows that is not the print, and is read here too; null: the print is read. */
  readonly reads: string | null
  readonly cmyk: readonly [number, number, number, number]
  readonly spots: readonly { readonly name: string; readonly coverage: number }[]
  readonly whites: readonly {
    readonly name: string
    readonly coverage: number
    readonly opacity: number
    readonly hits: number
  }[]
  readonly gratings: readonly {
    readonly pitchNm: number
    readonly linesPerMm: number
    readonly azimuthDeg: number
    readonly grooveDepthNm: number
    readonly share: number
    /** Which of several views it is, from 1; 0: none. */
    readonly view: number
  }[]
  readonly orders: readonly SeenOrder[]
  /** 1 = metal, 0 = bare board. */
  readonly metal: number
  readonly varnish: number
  /** What the eye sees now: on the screen, and as CIELAB against paper white under the lamp; null when out of sight. */
  readonly css: string | null
  /** What of it the screen cannot show. */
  readonly over: OverScreen
  readonly lab: readonly [number, number, number] | null
  /** The same inks on white board, lit and held the same, and CIEDE2000 to it; null out of sight. */
  readonly onWhite: { readonly css: string; readonly deltaE: number } | null
}

/** An order of diffraction that reaches the eye. */
export interface SeenOrder {
  readonly m: number
  /** Which view it belongs to, from 1; 0: none. */
  readonly view: number
  readonly wavelengthNm: number
  /** Luminance over that of paper white at the same place. */
  readonly timesWhite: number
}
