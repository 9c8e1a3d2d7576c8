import type { Ink } from './ink.ts'
import { blank, type Cover, mix, noise, type Point, smooth, xOf, yOf } from './page.ts'

/** The comet flies to the lower left; its tail opens towards the upper right edge of the panel. */
export const head: Point = [15, 115.4]
const direction = 0.17
/** Upward bend of the tail, per mm of its length. */
const bend = 0.0006

interface TailPlace {
  /** Along the tail from the head, mm. */
  readonly along: number
  /** Across it: −1 and 1 are its edges. */
  readonly across: number
}

function tailPlace(x: number, y: number): TailPlace {
  const [dx, dy] = [x - head[0], y - head[1]]
  const along = dx * Math.cos(direction) + dy * Math.sin(direction)
  const side = -dx * Math.sin(direction) + dy * Math.cos(direction) - bend * along * along
  const half = 1.1 + 0.118 * Math.max(0, along)
  return { along, across: side / half }
}

/** How much of the tail lies at each place: dense at the head, combed into rays. */
export function tail(): Cover {
  const cover = blank()
  for (let i = 0; i < cover.length; i++) {
    const { along, across } = tailPlace(xOf(i), yOf(i))
    if (along < -2 || Math.abs(across) > 1.35) continue
    const rays =
      0.62 + 0.38 * noise(across * 9 + 30, along * 0.015) - 0.3 * noise(across * 26 + 7, along * 0.03 + 50)
    const edge = smooth(1.3, 0.35, Math.abs(across))
    const fade = smooth(-1.5, 3, along) * mix(1, 0.62, smooth(20, 90, along))
    cover[i] = Math.min(1, Math.max(0, edge * fade * (rays + 0.45 * edge)))
  }
  return cover
}

/**
 * The rainbow that codes the direction of the grooves: red at the head to violet at the far end, so that the flash
 * of a moving lamp runs along the tail. Pure inks, no black.
 */
export function tailColor(i: number): Ink {
  const { along, across } = tailPlace(xOf(i), yOf(i))
  const hue = Math.min(0.8, Math.max(0, (along + 5 * across) / 112))
  const part = (n: number) => {
    const k = (n + hue * 6) % 6
    return Math.max(0, Math.min(1, k, 4 - k))
  }
  return [part(5), part(3), part(1), 0]
}

/** The head: a solid core and a soft halo of `reach` mm. */
export function glow(core: number, reach: number): Cover {
  const cover = blank()
  for (let i = 0; i < cover.length; i++) {
    const r = Math.hypot(xOf(i) - head[0], yOf(i) - head[1])
    if (r < reach) cover[i] = smooth(reach, core, r) ** 1.4
  }
  return cover
}
