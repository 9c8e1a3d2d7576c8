import type { Blank } from '../carton/blank.ts'
import type { DieLine, Outline, Point } from '../carton/die.ts'
import type { OwnDegrees } from '../carton/fold.ts'
import { boxOf } from '../carton/outline.ts'
import type { CartonSpec } from '../carton/spec.ts'

/** The carton that the art is for. */
export interface JobCarton {
  /** Style and size, or lines of a drawing; the board says how thick it is. */
  readonly form: SizedForm | DrawnForm
  /** How it stands: where the fold slider is, 0 flat to 1 closed, and degrees of hinges set apart from it. */
  readonly fold: { readonly amount: number; readonly own: OwnDegrees }
  /** Where the art lies; where several lie on a panel the first is seen. */
  readonly arts: readonly ArtPlace[]
}

export interface SizedForm extends Omit<CartonSpec, 'caliperMm'> {
  readonly from: 'sizes'
}

/** Lines of a dieline drawing, mm from the blank's lower left corner, as they were read. */
export interface DrawnForm {
  readonly from: 'drawing'
  /** Of the file, for a reader. */
  readonly name: string
  readonly lines: readonly DieLine[]
  readonly glue: readonly Outline[]
}

/** Lower left corner of the art, mm from that of the box around a panel, or around the blank where `panel` is null. */
export interface ArtPlace {
  readonly panel: string | null
  readonly xMm: number
  readonly yMm: number
}

interface Size {
  readonly widthMm: number
  readonly heightMm: number
}

/** Corner of the art that each panel shows, on the blank; a panel that shows none is left out. */
export function artCorners(blank: Blank, arts: readonly ArtPlace[], art: Size): ReadonlyMap<string, Point> {
  const corners = new Map<string, Point>()
  for (const { panel, xMm, yMm } of arts)
    for (const { name, outline } of blank.panels) {
      if (corners.has(name) || (panel !== null && panel !== name)) continue
      const [left, bottom, right, top] = boxOf(outline)
      const corner: Point = panel === null ? [xMm, yMm] : [left + xMm, bottom + yMm]
      const overlaps =
        corner[0] < right &&
        corner[0] + art.widthMm > left &&
        corner[1] < top &&
        corner[1] + art.heightMm > bottom
      if (overlaps) corners.set(name, corner)
    }
  return corners
}

/** A carton for art whose size is known: the art on the front, or over the whole blank where it is as large as that. */
export function cartonFor(art: Size): JobCarton {
  return {
    form: {
      from: 'sizes',
      top: { kind: 'tuck', on: 'back' },
      bottom: { kind: 'tuck', on: 'front' },
      lengthMm: tenth(art.widthMm),
      widthMm: tenth(Math.max(15, 0.4 * art.widthMm)),
      heightMm: tenth(art.heightMm),
      measure: 'crease',
      own: {},
      code: '',
    },
    fold: { amount: 1, own: {} },
    arts: [{ panel: 'front', xMm: 0, yMm: 0 }],
  }
}

/** To a tenth of a millimetre, as sizes are said. */
export const tenth = (mm: number) => Math.round(mm * 10) / 10
