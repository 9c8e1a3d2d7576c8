import { rgbSpaces } from '../color/rgb.ts'

/**
 * Changes to or from a saturated red, as WCAG 2.2 takes them from ISO 9241-391: one end has R / (R + G + B) of at least
 * 0.8, and the ends differ by more than 0.2 in the u′v′ chromaticity diagram of CIE 1976.
 */
const saturatedRed = 0.8
const chromaticityChange = 0.2

/** A place this dark, in parts of white, has no colour to an eye; it is taken as grey. The limit is ours. */
const colourless = 0.005

/** The colour of the last change's end, or of the one before it, farthest from where that change began. */
export interface RedState {
  /** `start` until the first change. */
  phase: 'empty' | 'start' | 'changed'
  fromU: number
  fromV: number
  atU: number
  atV: number
  /** Whether the place was a saturated red there. */
  red: boolean
}

export const startRed = (): RedState => ({ phase: 'empty', fromU: 0, fromV: 0, atU: 0, atV: 0, red: false })

/** Takes a place's next linear sRGB; true when it makes a change to or from a saturated red. */
export function redChanged(state: RedState, r: number, g: number, b: number): boolean {
  const sum = r + g + b
  const dark = sum < 3 * colourless
  const [u, v] = dark ? grey : chromaticity(r, g, b)
  const red = !dark && isSaturatedRed(r, g, b)
  if (state.phase === 'empty') {
    state.phase = 'start'
    move(state, u, v, red)
  } else if (apart(u, v, state.atU, state.atV) > chromaticityChange && (red || state.red)) {
    state.phase = 'changed'
    state.fromU = state.atU
    state.fromV = state.atV
    move(state, u, v, red)
    return true
  } else if (
    state.phase === 'changed' &&
    apart(u, v, state.fromU, state.fromV) > apart(state.atU, state.atV, state.fromU, state.fromV)
  ) {
    // Farther the same way: the change ends here.
    move(state, u, v, red)
  }
  return false
}

/** Of linear sRGB, not black. */
export const isSaturatedRed = (r: number, g: number, b: number): boolean => r / (r + g + b) >= saturatedRed

function move(state: RedState, u: number, v: number, red: boolean): void {
  state.atU = u
  state.atV = v
  state.red = red
}

const m = rgbSpaces.srgb.toXyz

/** u′, v′ of linear sRGB. */
function chromaticity(r: number, g: number, b: number): readonly [number, number] {
  const X = m[0] * r + m[1] * g + m[2] * b
  const Y = m[3] * r + m[4] * g + m[5] * b
  const Z = m[6] * r + m[7] * g + m[8] * b
  const d = X + 15 * Y + 3 * Z
  return [(4 * X) / d, (9 * Y) / d]
}

const grey = chromaticity(1, 1, 1)

const apart = (u: number, v: number, u2: number, v2: number): number => Math.hypot(u - u2, v - v2)
