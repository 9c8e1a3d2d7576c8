import { rgbSpaces } from '../color/rgb.ts'
import { type RedState, redChanged, startRed } from './flash-red.ts'

/**
 * The three flashes of WCAG 2.2, success criterion 2.3.1, with the thresholds of its definition "general flash and red
 * flash thresholds": counted at each place of a coarse picture, frame after frame.
 */

/** A change of relative luminance of this size is half a flash, where the darker end lies below {@link darkerBelow}. */
export const flashChange = 0.1
export const darkerBelow = 0.8
/** Screen white, cd/m², on which these are the 20 and 160 cd/m² of ITU-R BT.1702: one rule holds both. */
export const flashWhite = 200
/** More flashes than these in a second are too many. */
export const mostFlashes = 3
/** Part of a 10° field that may flash more: 0.006 sr of it. */
export const fieldPart = 0.25
/** A 10° field in a picture: a third of its sides, 341 × 256 px where it is shown with 1024 × 768. */
export const fieldIn = (width: number, height: number): readonly [width: number, height: number] => [
  Math.max(1, Math.round(width / 3)),
  Math.max(1, Math.round(height / 3)),
]

/** Size of the picture that is judged: a place is 16 × 16 px of 1024 × 768, 0.6° of a field of 10°. */
export const flashWidth = 64
export const flashHeight = 48

/** A stretch of time in which some field flashes more than allowed. */
export interface FlashStretch {
  readonly fromS: number
  readonly toS: number
  readonly kind: 'general' | 'red'
  /** Largest part of a 10° field, 0..1. */
  readonly part: number
  /** Most flashes of a place within a second. */
  readonly flashes: number
}

/**
 * Frames go in by {@link add}, in the order of their times; {@link stretches} says what was too much so far.
 * More than three flashes are more than six changes, so that three and a half are too many. A flash is counted where it
 * happens: light that runs over the carton and shows at each place once is none.
 */
export class FlashMeter {
  readonly #width: number
  readonly #height: number
  readonly #general: Transitions
  readonly #red: Transitions
  readonly #luminance: readonly LuminanceState[]
  readonly #redness: readonly RedState[]
  readonly #found: FlashStretch[] = []

  constructor(width = flashWidth, height = flashHeight) {
    this.#width = width
    this.#height = height
    const places = width * height
    this.#general = new Transitions(places)
    this.#red = new Transitions(places)
    this.#luminance = Array.from({ length: places }, () => ({
      low: Number.NaN,
      high: 0,
      rising: null,
      atS: 0,
    }))
    this.#redness = Array.from({ length: places }, startRed)
  }

  /** @param rgb linear sRGB as the screen shows it, 0..1, three a place, row by row */
  add(timeS: number, rgb: Float32Array): void {
    const [wr, wg, wb] = luminanceWeights
    for (let i = 0; i < this.#luminance.length; i++) {
      const [r, g, b] = [rgb[3 * i]!, rgb[3 * i + 1]!, rgb[3 * i + 2]!]
      if (luminanceChanged(this.#luminance[i]!, wr * r + wg * g + wb * b)) this.#general.add(i, timeS)
      if (redChanged(this.#redness[i]!, r, g, b)) this.#red.add(i, timeS)
    }
    this.#judge(timeS, this.#general, 'general')
    this.#judge(timeS, this.#red, 'red')
  }

  /** In the order of their beginnings; times of one kind that touch are one. */
  stretches(): readonly FlashStretch[] {
    return [...this.#found].sort((a, b) => a.fromS - b.fromS)
  }

  #judge(timeS: number, transitions: Transitions, kind: FlashStretch['kind']): void {
    const { most, over } = transitions.tooMany(timeS)
    if (over === null) return
    const part = largestPart(over, this.#width, this.#height)
    if (part <= fieldPart) return
    const flashes = most / 2
    const fromS = Math.max(0, timeS - 1)
    const at = this.#found.findIndex(one => one.kind === kind && one.toS >= fromS)
    const open = this.#found[at]
    const next =
      open === undefined
        ? { fromS, toS: timeS, kind, part, flashes }
        : { ...open, toS: timeS, part: Math.max(open.part, part), flashes: Math.max(open.flashes, flashes) }
    this.#found.splice(at < 0 ? this.#found.length : at, 1, next)
  }
}

/** Relative luminance of WCAG: that of linear sRGB. */
const { toXyz } = rgbSpaces.srgb
export const luminanceWeights = [toXyz[3], toXyz[4], toXyz[5]] as const

/** What a place's luminance has done since its last change. */
interface LuminanceState {
  /** Lowest and highest since then; NaN before the first frame. */
  low: number
  high: number
  /** Null before the first change. */
  rising: boolean | null
}

/** True when the light has gone the other way by enough: one more half of a flash. */
function luminanceChanged(state: LuminanceState, Y: number): boolean {
  if (Number.isNaN(state.low)) {
    state.low = Y
    state.high = Y
    return false
  }
  if (state.rising !== false && isChange(Y, state.high)) return turn(state, Y, false)
  if (state.rising !== true && isChange(state.low, Y)) return turn(state, Y, true)
  state.low = Math.min(state.low, Y)
  state.high = Math.max(state.high, Y)
  return false
}

function turn(state: LuminanceState, Y: number, rising: boolean): true {
  state.low = Y
  state.high = Y
  state.rising = rising
  return true
}

/** Whether going from one relative luminance to the other is half a flash. */
export const isChange = (darker: number, lighter: number): boolean =>
  lighter - darker >= flashChange - 1e-9 && darker < darkerBelow

/** The last changes of each place: one more than a second may hold. */
class Transitions {
  readonly #times: Float64Array
  readonly #next: Uint8Array
  readonly #over: Uint8Array
  readonly #kept = 2 * keptFlashes

  constructor(places: number) {
    this.#times = new Float64Array(places * this.#kept).fill(Number.NEGATIVE_INFINITY)
    this.#next = new Uint8Array(places)
    this.#over = new Uint8Array(places)
  }

  add(place: number, timeS: number): void {
    const next = this.#next[place]!
    this.#times[place * this.#kept + next] = timeS
    this.#next[place] = (next + 1) % this.#kept
  }

  /** Places with more changes in the second up to `timeS` than three flashes have; null where there are none. */
  tooMany(timeS: number): { readonly most: number; readonly over: Uint8Array | null } {
    let most = 0
    for (let place = 0; place < this.#over.length; place++) {
      let count = 0
      for (let k = 0; k < this.#kept; k++)
        if (this.#times[place * this.#kept + k]! > timeS - 1 + 1e-9) count++
      this.#over[place] = count > 2 * mostFlashes ? 1 : 0
      most = Math.max(most, count)
    }
    return { most, over: most > 2 * mostFlashes ? this.#over : null }
  }
}

/** Flashes of one place that are told apart; a picture of 30 frames a second holds no more than 15. */
const keptFlashes = 15

/** The largest part of any 10° field that is marked. */
function largestPart(marked: Uint8Array, width: number, height: number): number {
  const [fieldWidth, fieldHeight] = fieldIn(width, height)
  const sums = summed(marked, width, height)
  const at = (x: number, y: number): number => sums[y * (width + 1) + x]!
  let most = 0
  for (let y = 0; y + fieldHeight <= height; y++)
    for (let x = 0; x + fieldWidth <= width; x++) {
      const [right, bottom] = [x + fieldWidth, y + fieldHeight]
      most = Math.max(most, at(right, bottom) - at(x, bottom) - at(right, y) + at(x, y))
    }
  return most / (fieldWidth * fieldHeight)
}

/** Sums of all places above and left of each corner. */
function summed(marked: Uint8Array, width: number, height: number): Uint32Array {
  const sums = new Uint32Array((width + 1) * (height + 1))
  for (let y = 0; y < height; y++) {
    let row = 0
    for (let x = 0; x < width; x++) {
      row += marked[y * width + x]!
      sums[(y + 1) * (width + 1) + x + 1] = sums[y * (width + 1) + x + 1]! + row
    }
  }
  return sums
}
