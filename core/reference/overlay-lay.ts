import { decode } from '../color/rgb.ts'
import { knee } from '../color/tone.ts'
import { whiteD50, whiteDisplay, type XYZ } from '../color/xyz.ts'
import { sceneWhite } from './baking.ts'
import { surroundCode } from './display-picture.ts'
import { isPrint, type Overlay } from './overlay.ts'
import type { Standing } from './pose.ts'
import { type Scene, totalLux } from './scene.ts'

/** Distance from leaf to leaf when all are lifted, part of the panel's longer side. */
export const liftPart = 0.25
/** Films of leaves that are lifted off a print come in over this part of the lift, so that nothing jumps. */
export const filmsFrom = 0.05
/** Crossings of two rays closer than this meet the same dots of a white's screen, mm: the period of a screen of 170 lines/inch. */
export const dotMm = 0.15

/** Where leaves and films are, panel frame: what a picture needs of an {@link Overlay}. */
export interface Lay {
  readonly board: boolean
  readonly white: LaidLeaf
  readonly inks: LaidLeaf
  /** Whether anything but the print's own order lies between board and eye. */
  readonly apart: boolean
  /** How far the white lies on the back of the front film, without air or a surface between them, 0..1. */
  readonly contact: number
  readonly index: number
  /** Mean square slope of the films. */
  readonly variance: number
}

export interface LaidLeaf {
  readonly shown: boolean
  /** Above the board, mm. */
  readonly height: number
  /** Of its middle, mm. */
  readonly x: number
  readonly y: number
  /** How much of a film's surfaces it has, 0..1. */
  readonly film: number
}

/**
 * How the leaves of a scene lie; null where they are one print, all there. What is folded has no leaves to lift: a job
 * opens its carton for them.
 * @param panel its size
 */
export function layOf(
  { solid, leaf, view }: Pick<Scene, 'solid' | 'leaf' | 'view'>,
  panel: { readonly widthMm: number; readonly heightMm: number },
): Lay | null {
  const { overlay } = view
  if (overlay === undefined || isPrint(overlay) || solid !== undefined || leaf !== undefined) return null
  const { lift, shown, laid, film } = overlay
  const step = lift * liftPart * Math.max(panel.widthMm, panel.heightMm)
  const own = Math.min(1, lift / filmsFrom)
  const onFilm = laid === 'film'
  const [x, y] = onFilm ? film.registerMm : [0, 0]
  const gap = onFilm ? film.gapMm : 0
  // The one film of a proof has its surfaces in front; lifted, the white has a film of its own.
  const front = onFilm ? (shown.overprint ? 1 : shown.white ? 1 - own : 0) : shown.overprint ? own : 0
  return {
    board: shown.board,
    white: { shown: shown.white, height: gap + step, x, y, film: shown.white ? own : 0 },
    inks: {
      shown: shown.overprint,
      // A film shows what lies under it nearer by its index.
      height: gap + (onFilm ? film.thicknessMm / film.index : 0) + 2 * step,
      x,
      y,
      film: front,
    },
    apart: onFilm || lift > 0,
    contact: onFilm ? 1 - own : 0,
    index: film.index,
    variance: film.roughness ** 2,
  }
}

/**
 * Light of what lies under all leaves: the ground that the window shows around the panel, so that a leaf which stands out
 * over the board's edge is seen before it. X, Y, Z in the picture's units.
 */
export function groundOf(scene: Pick<Scene, 'light' | 'view'>): XYZ {
  const { adapt, displayWhite, exposureStops, anchorLux } = scene.view
  const total = totalLux(scene.light)
  const gain = knee * 2 ** exposureStops * (total / (anchorLux ?? total))
  const white = adapt ? sceneWhite(scene) : displayWhite === 'D50' ? whiteD50 : whiteDisplay
  const part = decode(surroundCode) / gain
  return [part * white[0], part * white[1], part * white[2]]
}

/**
 * Where the eye's ray to a place of the board crosses a leaf, mm from the panel's middle; null where the eye is not above it.
 * @param eye panel frame, mm
 */
export function crossingOf(
  { height }: LaidLeaf,
  [eyeX, eyeY, eyeZ]: readonly [number, number, number],
  x: number,
  y: number,
): readonly [number, number] | null {
  if (eyeZ <= height) return null
  return [x + (height * (eyeX - x)) / eyeZ, y + (height * (eyeY - y)) / eyeZ]
}

/** Half sides of a rectangle on the board's plane, panel frame, behind which no leaf is seen from the eye. */
export function reachOf(
  lay: Lay,
  { eye }: Pick<Standing, 'eye'>,
  panel: { readonly widthMm: number; readonly heightMm: number },
): readonly [number, number] {
  const halves: [number, number] = [panel.widthMm / 2, panel.heightMm / 2]
  const half: [number, number] = [halves[0], halves[1]]
  for (const { height, x, y } of [lay.white, lay.inks]) {
    if (eye[2] <= height) continue
    const away = eye[2] / (eye[2] - height)
    ;[x, y].forEach((middle, axis) => {
      for (const side of [-1, 1]) {
        const seen = eye[axis]! + (middle + side * halves[axis]! - eye[axis]!) * away
        half[axis] = Math.max(half[axis]!, Math.abs(seen))
      }
    })
  }
  return half
}
