import { pole } from './chart.ts'
import type { Ink } from './ink.ts'
import { blank, type Cover, mix, noise, smooth, xOf, yOf } from './page.ts'

const zenith: Ink = [1, 0.8, 0.15, 0.4]
const middle: Ink = [1, 0.7, 0, 0.12]
const horizon: Ink = [0.86, 0.82, 0, 0.18]

/** Night blue, deepest at the top and in the corners, turning violet at the foot. */
export function skyInk(i: number): Ink {
  const [x, y] = [xOf(i), yOf(i)]
  const up = smooth(75, 150, y)
  const down = smooth(60, 0, y)
  const corner = smooth(48, 105, Math.hypot(x - pole[0], (y - pole[1]) * 0.9))
  const at = (p: number) => mix(mix(middle[p]!, zenith[p]!, up), horizon[p]!, down)
  return [at(0), at(1), at(2), at(3) + 0.22 * corner]
}

/** Soft violet clouds behind the title and along the comet. */
export function clouds(): Cover {
  const cover = blank()
  for (let i = 0; i < cover.length; i++) {
    const [x, y] = [xOf(i), yOf(i)]
    const n =
      0.6 * noise(x * 0.05 + 3, y * 0.07) +
      0.3 * noise(x * 0.13, y * 0.17 + 9) +
      0.1 * noise(x * 0.4, y * 0.4)
    const where = smooth(62, 20, y) * smooth(-4, 14, y) + 0.7 * smooth(105, 126, y) * smooth(150, 132, y)
    cover[i] = smooth(0.35, 0.85, n) * where
  }
  return cover
}
