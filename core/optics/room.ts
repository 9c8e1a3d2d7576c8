import type { Direction } from './rays.ts'

/** The light that comes from everywhere, as the panel sees it. */
export interface Surround {
  /** Unit vector towards the room's brightest part, panel frame: `roomUp` turned with the panel. */
  readonly up: Direction
  /** Radiance there in units of paper white under the lamp at the panel's middle. */
  readonly level: number
}

/**
 * The soft room: radiance by direction, over that of its brightest part. Darkest opposite, 0.2; smooth between:
 * 0.2 + 0.8 ((1 + c) / 2)², c the cosine to the brightest part. Its light has the lamp's colour.
 */
export function roomRadiance(up: Direction, towards: Direction): number {
  const c = up[0] * towards[0] + up[1] * towards[1] + up[2] * towards[2]
  return roomFloor + (1 - roomFloor) * 0.25 * (1 + c) * (1 + c)
}

/** What a white diffuser facing +z takes from the whole room, over its brightest part: the mean weighted with the cosine. */
export function roomMean(up: Direction): number {
  const k = up[2]
  return roomFloor + (1 - roomFloor) * 0.25 * (1 + (4 / 3) * k + (1 + k * k) / 4)
}

export const roomFloor = 0.2

/** Direction in which the eye sees the room in a mirror facing +z. */
export function mirrored(eye: Direction): Direction {
  return [-eye[0], -eye[1], eye[2]]
}
