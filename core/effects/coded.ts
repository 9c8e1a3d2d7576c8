import type { EffectControl, EffectKind } from './effect.ts'
import { limits } from './limits.ts'
import {
  azimuthControl,
  ParameterReader,
  type Parameters,
  pitchControl,
  reliefControls,
  reliefDefaults,
  scatterControls,
  scatterDefaults,
  shapeChoice,
} from './parameters.ts'

export const codeSources = ['hue', 'tone'] as const
export const codeTargets = ['pitch', 'azimuth'] as const
export type CodeSource = (typeof codeSources)[number]
export type CodeTarget = (typeof codeTargets)[number]

/** One line of a legend: a hue in turns (0 red, ⅓ green, ⅔ blue) or a lightness 0..1, and the nm or degrees it stands for. */
export interface Stop {
  readonly at: number
  readonly value: number
}

/** Below this chroma a colour has no hue worth reading; the foil stays plain there. */
export const leastChroma = 0.08
/** More stops than a legend can show. */
const mostStops = 64
const degree = Math.PI / 180

/** Red, yellow, green, cyan, blue and violet as wavelengths, nm: common values, from memory. */
const hueWavelengths = [620, 575, 535, 490, 455, 420] as const

/** The wavelength that shows a hue best, nm; purples, which no wavelength shows, get the nearer of violet and red. */
export function wavelengthOfHue(hue: number): number {
  const at = 6 * (hue - Math.floor(hue))
  const i = Math.floor(at)
  if (i >= 5) return hueWavelengths[at < 5.5 ? 5 : 0]
  const [from, to] = [hueWavelengths[i]!, hueWavelengths[i + 1]!]
  return from + (at - i) * (to - from)
}

/**
 * The legend of a code nobody has edited. Hue to pitch: each hue shows itself under a lamp that stands 30° off the
 * line of sight, d = λ / sin 30°, for the usual wavelength of that hue. Hue or tone to direction: once round is half a
 * turn.
 */
export function usualLegend(code: CodeSource, gives: CodeTarget): readonly Stop[] {
  if (code === 'hue' && gives === 'pitch') return hueWavelengths.map((λ, i) => ({ at: i / 6, value: 2 * λ }))
  if (code === 'hue') return [0, 1, 2, 3, 4, 5].map(i => ({ at: i / 6, value: 30 * i }))
  if (gives === 'pitch')
    return [
      { at: 0, value: 800 },
      { at: 1, value: 1400 },
    ]
  return [
    { at: 0, value: 0 },
    { at: 1, value: 180 },
  ]
}

/** Direction or pitch drawn by the designer as colours. */
export const coded: EffectKind = {
  name: 'coded',
  title: 'Read from the drawing',
  says: 'The colours or tones of the layer stand for pitch or direction, as the legend says. Where a hue is asked and there is none (grey), the foil stays plain.',
  controls: [pitchControl, azimuthControl, ...reliefControls, ...scatterControls],
  limits: limits(0.2, 'Read pixel by pixel: soft edges of the drawing give a fringe of in-between pitches.'),
  choices: [
    {
      key: 'code',
      label: 'What is read',
      options: [
        { value: 'hue', label: 'Hue' },
        { value: 'tone', label: 'Lightness' },
      ],
    },
    {
      key: 'gives',
      label: 'What it stands for',
      options: [
        { value: 'pitch', label: 'Pitch' },
        { value: 'azimuth', label: 'Direction' },
      ],
    },
    shapeChoice,
  ],
  defaults: {
    code: 'hue',
    gives: 'pitch',
    stops: null,
    pitchNm: 1000,
    azimuthDeg: 90,
    maskLayerId: null,
    ...reliefDefaults,
    ...scatterDefaults,
  },
  prepare(parameters) {
    const reader = new ParameterReader(coded.name, parameters, coded.defaults)
    const { code, gives, stops } = readLegend(reader)
    const azimuth = reader.number(azimuthControl) * degree
    const { depth, share, groove } = reader.relief()
    const { spread, jitter } = reader.scatter()
    // The legend takes the place of the pitch: what is not used is not judged.
    const pitch = gives === 'pitch' ? 0 : reader.pitch('pitchNm', reader.get('pitchNm'), depth, spread)
    if (gives === 'pitch')
      stops.forEach((stop, i) => {
        reader.pitch(`stops[${i}].value`, stop.value, depth, spread)
      })
    const mask = reader.get('maskLayerId')
    if (mask !== null && typeof mask !== 'string')
      reader.refuse(
        'maskLayerId',
        `expected a layer id or null, got ${JSON.stringify(mask)}`,
        'Choose a layer.',
      )
    const read = code === 'hue' ? aroundLegend(stops, gives) : alongLegend(stops)
    return {
      kind: 'grating',
      groove,
      readsArt: true,
      maskLayerId: mask as string | null,
      at: (_x, _y, tone, out) => {
        const value = read(code === 'hue' ? tone.hue : tone.lightness)
        out.pitch = gives === 'pitch' ? value : pitch
        out.azimuth = gives === 'azimuth' ? value * degree : azimuth
        out.grooveDepth = depth
        out.spread = spread
        out.jitter = jitter
        out.share = code === 'hue' && tone.chroma < leastChroma ? 0 : share
        return out
      },
    }
  },
}

/** The legend in force: the parameters' own stops in order, or the usual ones. Throws BadInput. */
export function legendOf(parameters: Parameters): {
  readonly code: CodeSource
  readonly gives: CodeTarget
  readonly stops: readonly Stop[]
} {
  return readLegend(new ParameterReader(coded.name, parameters, coded.defaults))
}

function readLegend(reader: ParameterReader) {
  const code = reader.choice('code', codeSources)
  const gives = reader.choice('gives', codeTargets)
  const given = reader.get('stops')
  if (given === null) return { code, gives, stops: usualLegend(code, gives) }
  if (!Array.isArray(given) || given.length === 0 || given.length > mostStops)
    return reader.refuse(
      'stops',
      `expected 1..${mostStops} lines of {at, value}, got ${JSON.stringify(given)}`,
      'Write the legend as a list, or null for the usual one.',
    )
  const range: EffectControl = gives === 'pitch' ? pitchControl : azimuthControl
  const stops = given.map((stop: unknown, i): Stop => {
    const { at, value } = (typeof stop === 'object' && stop !== null ? stop : {}) as Record<string, unknown>
    return {
      at: reader.inRange(`stops[${i}].at`, at, 0, 1, ''),
      value: reader.inRange(`stops[${i}].value`, value, range.min, range.max, range.unit),
    }
  })
  return { code, gives, stops: stops.toSorted((a, b) => a.at - b.at) }
}

/** Straight between stops, level beyond the ends. */
function alongLegend(stops: readonly Stop[]): (at: number) => number {
  const first = stops[0]!
  const last = stops.at(-1)!
  return at => {
    if (at <= first.at) return first.value
    for (let i = 1; i < stops.length; i++)
      if (at <= stops[i]!.at) return between(stops[i - 1]!, stops[i]!, at)
    return last.value
  }
}

/**
 * Straight between stops and on from the last to the first, for hues. There a direction goes to whichever half turn of
 * the first stop's value is nearest, since a grating turned by 180° is the same.
 */
function aroundLegend(stops: readonly Stop[], gives: CodeTarget): (at: number) => number {
  const first = stops[0]!
  const last = stops.at(-1)!
  const turned = gives === 'azimuth' ? 180 * Math.round((last.value - first.value) / 180) : 0
  const next: Stop = { at: first.at + 1, value: first.value + turned }
  const before: Stop = { at: last.at - 1, value: last.value - turned }
  return alongLegend([before, ...stops, next])
}

function between(a: Stop, b: Stop, at: number): number {
  return b.at === a.at ? b.value : a.value + ((at - a.at) / (b.at - a.at)) * (b.value - a.value)
}
