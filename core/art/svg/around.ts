import type { XmlElement } from '../../base/xml.ts'
import type { Look, Mark } from '../ink/mark.ts'
import type { Matrix } from '../path.ts'
import { luminance, type Rgba } from './colour.ts'
import { firstStyle, type Style } from './style.ts'

/** What an element takes from those around it. */
export interface Around {
  /** Units to page mm; inside a pattern to the pattern's space. */
  readonly matrix: Matrix
  readonly style: Style
  /** Number of its layer; null where it lies in none. */
  readonly layer: number | null
  /** Whether layers may begin here: not in what is used, and not in patterns, clips and masks. */
  readonly layered: boolean
  /** Width and height that 100 % stand for. */
  readonly view: readonly [number, number]
  /** Ids of what is being used, to stop those that use themselves. */
  readonly uses: readonly string[]
  readonly depth: number
  /** In a marker: the style of the line that it stands on. */
  readonly context?: Style
}

/** What colours become. */
export interface Aim {
  readonly inks: readonly number[]
  /** Amounts of `inks`, 0..1. */
  readonly tints: (colour: Rgba) => readonly number[]
  /** Shapes count as they lie, whatever they are painted with, and lines do not count. */
  readonly outlines: boolean
}

/** What takes red, green and blue away from the light. */
export const lightAim: Aim = {
  inks: [0, 1, 2],
  tints: ([r, g, b]) => [1 - r, 1 - g, 1 - b],
  outlines: false,
}
/** The one ink of a luminosity mask. */
export const maskAim: Aim = { inks: [0], tints: colour => [1 - luminance(colour)], outlines: false }
/** Of what only its opacity is asked. */
export const alphaAim: Aim = { inks: [0], tints: () => [1], outlines: false }
/** Of a clip. */
export const clipAim: Aim = { ...alphaAim, outlines: true }

/** What holds inside something that is referred to. */
export const apart = (here: Around, matrix: Matrix, reference: string): Around => ({
  ...here,
  matrix,
  style: firstStyle,
  layer: null,
  layered: false,
  uses: [...here.uses, reference],
  depth: here.depth + 1,
})

/** Draws the members of an element for an aim. */
export type DrawMembers = (element: XmlElement, around: Around, aim: Aim) => readonly Mark[]

/** Laid down plainly; what the element does as a whole is done to its marks after. */
export const plainLook = ({ layer }: Around, alpha: number): Look => ({
  clip: null,
  alpha,
  blend: 'normal',
  softMask: null,
  overprint: false,
  layer,
})
