import { addText } from './lettering.ts'
import {
  addDisc,
  addLine,
  addRing,
  addShape,
  blank,
  type Cover,
  noise,
  type Point,
  smooth,
  xOf,
  yOf,
} from './page.ts'
import { figures } from './stars.ts'

/**
 * The sky around the north pole, drawn as through the eyepiece: distance from the middle grows evenly with polar
 * distance, right ascension runs counter-clockwise. The lens lies on the pole; the chart ends at its bezel.
 */
export const pole: Point = [50, 70]
export const lensRadius = 10.5
export const chartRadius = 37.2
export const bezelRadius = 41.2
const mmPerDegree = 0.5615
/** Turns Ursa Major to the upper right. */
const turn = (-118 * Math.PI) / 180

export function place(hours: number, declination: number): Point {
  const r = (90 - declination) * mmPerDegree
  const a = (hours * Math.PI) / 12 + turn
  return [pole[0] + r * Math.cos(a), pole[1] + r * Math.sin(a)]
}

/** Rings of the lens: its glass, three circles of declination and the bezel. */
export function lensRings(): Cover {
  const cover = blank()
  for (const [inner, outer] of [
    [0, 2.2],
    [2.9, 6.1],
    [6.7, 8.6],
    [9.1, lensRadius],
    [chartRadius, bezelRadius],
  ] as const)
    addRing(cover, pole, inner, outer)
  for (const declination of [60, 45, 30]) {
    const r = (90 - declination) * mmPerDegree
    addRing(cover, pole, r - 0.3, r + 0.3)
  }
  return cover
}

/** Hour lines and the finer circles of declination. */
export function grid(): Cover {
  const cover = blank()
  for (let hour = 0; hour < 24; hour++) {
    const a = (hour * Math.PI) / 12 + turn
    const from = hour % 6 === 0 ? lensRadius : (90 - 60) * mmPerDegree
    addLine(cover, polar(from, a), polar(chartRadius, a), 0.12)
  }
  for (const declination of [67.5, 52.5, 37.5]) {
    const r = (90 - declination) * mmPerDegree
    addRing(cover, pole, r - 0.05, r + 0.05)
  }
  return cover
}

/** Scale of right ascension on the bezel: a stroke every ten minutes, a number every second hour. */
export function hourScale(): Cover {
  const cover = blank()
  for (let step = 0; step < 144; step++) {
    const a = (step * Math.PI) / 72 + turn
    const long = step % 6 === 0 ? 1.5 : step % 3 === 0 ? 1 : 0.6
    addLine(
      cover,
      polar(chartRadius + 0.35, a),
      polar(chartRadius + 0.35 + long, a),
      step % 6 === 0 ? 0.16 : 0.1,
    )
  }
  for (let hour = 0; hour < 24; hour += 2) {
    const a = (hour * Math.PI) / 12 + turn
    addText(cover, {
      text: `${hour}h`,
      face: 'small',
      size: 1.9,
      at: polar(chartRadius + 2.2, a),
      align: 'middle',
      turn: a - Math.PI / 2,
    })
  }
  addRing(cover, pole, chartRadius - 0.08, chartRadius + 0.08)
  addRing(cover, pole, bezelRadius - 0.1, bezelRadius + 0.1)
  return cover
}

/** Lines between the stars of a figure, ending short of the stars. */
export function figureLines(): Cover {
  const cover = blank()
  for (const { stars, lines } of figures)
    for (const [a, b] of lines) {
      const p = place(stars[a]![0], stars[a]![1])
      const q = place(stars[b]![0], stars[b]![1])
      const length = Math.hypot(q[0] - p[0], q[1] - p[1])
      const cut = (index: number) => Math.min(0.45, (starRadius(stars[index]![2]) + 0.35) / length)
      addLine(cover, along(p, q, cut(a)), along(p, q, 1 - cut(b)), 0.2)
    }
  return outsideLens(cover, 0)
}

/** Discs, larger for brighter stars. */
export function starDiscs(): Cover {
  const cover = blank()
  for (const [hours, declination, magnitude] of figures.flatMap(figure => figure.stars))
    addDisc(cover, place(hours, declination), starRadius(magnitude))
  return cover
}

/** Four-pointed rays around the brighter stars. */
export function starRays(): Cover {
  const cover = blank()
  for (const [hours, declination, magnitude] of figures.flatMap(figure => figure.stars)) {
    if (magnitude > 3) continue
    const [x, y] = place(hours, declination)
    const reach = 1.1 + 0.75 * (3 - magnitude)
    const waist = 0.09 + 0.05 * (3 - magnitude)
    // An astroid-like star: the product of the distances from both axes stays below a small constant.
    addShape(cover, [x - reach, y - reach, x + reach, y + reach], (px, py) => {
      const [dx, dy] = [Math.abs(px - x), Math.abs(py - y)]
      const arm = (u: number, v: number) => v - waist * Math.max(0, 1 - u / reach) ** 1.5
      return Math.max(Math.min(arm(dx, dy), arm(dy, dx)), Math.max(dx, dy) - reach)
    })
  }
  return cover
}

/** Names of the figures, each where the chart is free; start of the baseline, mm. */
const names: readonly (readonly [string, number, number])[] = [
  ['Ursa Major', 68.8, 83.4],
  ['Cassiopeia', 39.4, 49.6],
  ['Cepheus', 29, 57.4],
  ['Draco', 27.6, 77],
  ['Cygnus', 20.4, 55.4],
  ['Lyra', 19.6, 83.8],
  ['Hercules', 30.4, 93.6],
  ['Perseus', 53.2, 40.4],
  ['Auriga', 74.6, 60.6],
  ['Andromeda', 29.2, 45.6],
  ['Boötes', 46.6, 100.4],
  ['Gemini', 72.2, 68.2],
]

export function figureNames(): Cover {
  const cover = blank()
  for (const [text, x, y] of names)
    addText(cover, { text, face: 'italic', size: 2.1, at: [x, y], tracking: 0.03 })
  return cover
}

/** The Milky Way inside the chart: near the galactic equator, broken up by noise. */
export function milkyWay(): Cover {
  const cover = blank()
  for (let i = 0; i < cover.length; i++) {
    const [x, y] = [xOf(i), yOf(i)]
    const r = Math.hypot(x - pole[0], y - pole[1])
    if (r > chartRadius) continue
    const density = Math.exp(-((galacticLatitude(x, y) / 9) ** 2))
    const clouds =
      noise(x * 0.35, y * 0.35) * 0.5 +
      noise(x * 0.9 + 40, y * 0.9) * 0.3 +
      noise(x * 2.3, y * 2.3 + 70) * 0.2
    cover[i] = density * smooth(0.3, 0.75, clouds) * smooth(chartRadius, chartRadius - 1.5, r)
  }
  return outsideLens(cover, 1)
}

/** Degrees, for a place on the page. Pole of the galaxy at 12h 51.4m, +27.13° (equinox 2000). */
function galacticLatitude(x: number, y: number): number {
  const rad = Math.PI / 180
  const declination = (90 - Math.hypot(x - pole[0], y - pole[1]) / mmPerDegree) * rad
  const ascension = Math.atan2(y - pole[1], x - pole[0]) - turn
  const sine =
    Math.sin(declination) * Math.sin(27.13 * rad) +
    Math.cos(declination) * Math.cos(27.13 * rad) * Math.cos(ascension - 192.86 * rad)
  return Math.asin(sine) / rad
}

export function starRadius(magnitude: number): number {
  return 0.2 + 0.12 * Math.max(0, 4.6 - magnitude)
}

const polar = (r: number, a: number): Point => [pole[0] + r * Math.cos(a), pole[1] + r * Math.sin(a)]
const along = (p: Point, q: Point, t: number): Point => [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t]

/** Leaves the lens free, softly over `edge` mm. */
function outsideLens(cover: Cover, edge: number): Cover {
  return cover.map((share, i) => {
    const r = Math.hypot(xOf(i) - pole[0], yOf(i) - pole[1])
    return r < lensRadius ? 0 : edge > 0 ? share * smooth(lensRadius, lensRadius + edge, r) : share
  })
}
