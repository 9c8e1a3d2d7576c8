import { addText, type Line } from './lettering.ts'
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

/** A line of the chart, mm. */
export interface Segment {
  readonly from: Point
  readonly to: Point
  readonly thickness: number
}

/** From one radius to another around the pole, mm. */
type Band = readonly [inner: number, outer: number]

/** Rings of the lens: its glass, three circles of declination and the bezel. */
export const lensBands = (): readonly Band[] => [
  [0, 2.2],
  [2.9, 6.1],
  [6.7, 8.6],
  [9.1, lensRadius],
  [chartRadius, bezelRadius],
  ...[60, 45, 30].map((declination): Band => {
    const r = (90 - declination) * mmPerDegree
    return [r - 0.3, r + 0.3]
  }),
]

export function lensRings(): Cover {
  const cover = blank()
  for (const [inner, outer] of lensBands()) addRing(cover, pole, inner, outer)
  return cover
}

/** Hour lines. */
export const gridStrokes = (): readonly Segment[] =>
  Array.from({ length: 24 }, (_, hour) => {
    const a = (hour * Math.PI) / 12 + turn
    const from = hour % 6 === 0 ? lensRadius : (90 - 60) * mmPerDegree
    return { from: polar(from, a), to: polar(chartRadius, a), thickness: 0.12 }
  })

/** The finer circles of declination. */
export const gridRings = (): readonly Band[] =>
  [67.5, 52.5, 37.5].map(declination => {
    const r = (90 - declination) * mmPerDegree
    return [r - 0.05, r + 0.05]
  })

export function grid(): Cover {
  const cover = blank()
  addSegments(cover, gridStrokes())
  for (const [inner, outer] of gridRings()) addRing(cover, pole, inner, outer)
  return cover
}

/** Scale of right ascension on the bezel: a stroke every ten minutes. */
export const hourStrokes = (): readonly Segment[] =>
  Array.from({ length: 144 }, (_, step) => {
    const a = (step * Math.PI) / 72 + turn
    const long = step % 6 === 0 ? 1.5 : step % 3 === 0 ? 1 : 0.6
    return {
      from: polar(chartRadius + 0.35, a),
      to: polar(chartRadius + 0.35 + long, a),
      thickness: step % 6 === 0 ? 0.16 : 0.1,
    }
  })

/** A number every second hour. */
export const hourLabels = (): readonly Line[] =>
  Array.from({ length: 12 }, (_, i) => {
    const a = (2 * i * Math.PI) / 12 + turn
    return {
      text: `${2 * i}h`,
      face: 'small',
      size: 1.9,
      at: polar(chartRadius + 2.2, a),
      align: 'middle',
      turn: a - Math.PI / 2,
    }
  })

export const hourRings = (): readonly Band[] => [
  [chartRadius - 0.08, chartRadius + 0.08],
  [bezelRadius - 0.1, bezelRadius + 0.1],
]

export function hourScale(): Cover {
  const cover = blank()
  addSegments(cover, hourStrokes())
  for (const line of hourLabels()) addText(cover, line)
  for (const [inner, outer] of hourRings()) addRing(cover, pole, inner, outer)
  return cover
}

function addSegments(cover: Cover, segments: readonly Segment[]): void {
  for (const { from, to, thickness } of segments) addLine(cover, from, to, thickness)
}

/** Lines between the stars of a figure, ending short of the stars; they run on through the lens. */
export const figureStrokes = (): readonly Segment[] =>
  figures.flatMap(({ stars, lines }) =>
    lines.map(([a, b]) => {
      const p = place(stars[a]![0], stars[a]![1])
      const q = place(stars[b]![0], stars[b]![1])
      const length = Math.hypot(q[0] - p[0], q[1] - p[1])
      const cut = (index: number) => Math.min(0.45, (starRadius(stars[index]![2]) + 0.35) / length)
      return { from: along(p, q, cut(a)), to: along(p, q, 1 - cut(b)), thickness: 0.2 }
    }),
  )

export function figureLines(): Cover {
  const cover = blank()
  addSegments(cover, figureStrokes())
  return outsideLens(cover, 0)
}

/** Discs, larger for brighter stars. */
export const starDiscPlaces = (): readonly { readonly at: Point; readonly r: number }[] =>
  figures
    .flatMap(figure => figure.stars)
    .map(([hours, declination, magnitude]) => ({
      at: place(hours, declination),
      r: starRadius(magnitude),
    }))

export function starDiscs(): Cover {
  const cover = blank()
  for (const { at, r } of starDiscPlaces()) addDisc(cover, at, r)
  return cover
}

/** The brighter stars, which have rays: how far these reach, and how wide they are at the star, mm. */
export const rayStars = (): readonly {
  readonly at: Point
  readonly reach: number
  readonly waist: number
}[] =>
  figures
    .flatMap(figure => figure.stars)
    .filter(([, , magnitude]) => magnitude <= 3)
    .map(([hours, declination, magnitude]) => ({
      at: place(hours, declination),
      reach: 1.1 + 0.75 * (3 - magnitude),
      waist: 0.09 + 0.05 * (3 - magnitude),
    }))

/** Four-pointed rays around the brighter stars. */
export function starRays(): Cover {
  const cover = blank()
  for (const {
    at: [x, y],
    reach,
    waist,
  } of rayStars()) {
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

export const figureNameLines = (): readonly Line[] =>
  names.map(([text, x, y]) => ({ text, face: 'italic', size: 2.1, at: [x, y], tracking: 0.03 }))

export function figureNames(): Cover {
  const cover = blank()
  for (const line of figureNameLines()) addText(cover, line)
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
