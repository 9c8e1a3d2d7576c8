import { type Curve, lengthOf, nearestOn } from './curve.ts'
import type { EffectChoice, EffectControl, EffectFrame, EffectKind, EffectWarning } from './effect.ts'
import { finestLine, limits } from './limits.ts'
import type { PointMm } from './outline.ts'
import {
  centerControls,
  ParameterReader,
  pitchControl,
  reliefControls,
  reliefDefaults,
  scatterControls,
  scatterDefaults,
  shapeChoice,
} from './parameters.ts'

const curves = ['line', 'circle', 'wave', 'spiral', 'outline'] as const
type CurveName = (typeof curves)[number]

const curveChoice: EffectChoice = {
  key: 'curve',
  label: 'It runs along',
  options: [
    { value: 'line', label: 'A straight line' },
    { value: 'circle', label: 'A circle' },
    { value: 'wave', label: 'A wavy line' },
    { value: 'spiral', label: 'A spiral' },
    { value: 'outline', label: 'A drawn outline' },
  ],
}
const repeatControl: EffectControl = {
  key: 'repeatMm',
  label: 'Highlight spacing',
  unit: 'mm',
  min: 1,
  max: 5000,
  step: 1,
  says: 'Half a turn of the light carries the highlight this far. A closed line has a whole number of them.',
}
const startControl: EffectControl = {
  key: 'startDeg',
  label: 'First direction',
  unit: 'deg',
  min: -180,
  max: 180,
  step: 1,
}
const widthControl: EffectControl = {
  key: 'widthMm',
  label: 'Line width',
  says: 'At 0 the whole area runs.',
  unit: 'mm',
  min: 0,
  max: 200,
  step: 0.1,
}
const formControls: readonly EffectControl[] = [
  {
    key: 'scalePercent',
    label: 'Size',
    says: '100 % fills the area.',
    unit: 'percent',
    min: 5,
    max: 300,
    step: 5,
    when: { key: 'curve', values: ['line', 'circle', 'wave', 'spiral'] },
  },
  {
    key: 'turnDeg',
    label: 'Turned by',
    unit: 'deg',
    min: -180,
    max: 180,
    step: 1,
    when: { key: 'curve', values: ['line', 'wave', 'spiral'] },
  },
]
const degree = Math.PI / 180

/** A direction that turns evenly along a line, φ = φ₀ + ω s with ω half a turn a repeat. */
export const highlight: EffectKind = {
  name: 'highlight',
  title: 'Running highlight',
  says: 'A bright piece runs along a line as the light or the carton turns, and the next follows where it has left: along a frame, a ring, a comet’s tail.',
  limits: limits(
    finestLine,
    'A line needs about that width to be lit, and a few millimetres of length to be seen to run.',
  ),
  controls: [
    pitchControl,
    repeatControl,
    startControl,
    widthControl,
    ...formControls,
    ...centerControls,
    ...reliefControls,
    ...scatterControls,
  ],
  choices: [curveChoice, shapeChoice],
  defaults: {
    curve: 'line',
    outlineId: null,
    pitchNm: 1000,
    repeatMm: 60,
    startDeg: 0,
    widthMm: 0,
    scalePercent: 100,
    turnDeg: 0,
    offsetXMm: 0,
    offsetYMm: 0,
    ...reliefDefaults,
    ...scatterDefaults,
  },
  prepare(parameters, frame) {
    const reader = new ParameterReader(highlight.name, parameters, highlight.defaults)
    const name = reader.choice('curve', curves)
    const start = reader.number(startControl) * degree
    const repeat = reader.number(repeatControl)
    const width = reader.number(widthControl)
    const [scale, turn] = formControls.map(control => reader.number(control)) as [number, number]
    const [offsetX, offsetY] = centerControls.map(control => reader.number(control)) as [number, number]
    const { depth, share, groove } = reader.relief()
    const { spread, jitter } = reader.scatter()
    const pitch = reader.pitch('pitchNm', reader.get('pitchNm'), depth, spread)
    const warnings: EffectWarning[] = []
    const drawn = name === 'outline' ? outlineCurves(reader, frame) : []
    if (name === 'outline' && drawn.length === 0)
      warnings.push({
        code: 'line-missing',
        message: 'the outline that its highlight runs along is not there, so a straight line is taken',
        fix: 'Choose an outline, or draw one.',
      })
    const form = name === 'outline' ? 'line' : name
    const along =
      drawn.length > 0 ? drawn : [formOf(form, frame, scale / 100, turn * degree, offsetX, offsetY)]
    const rates = along.map(curve => rateOf(curve, repeat))
    const nearest = nearestOn(along, {
      leftMm: frame.centerXMm - frame.widthMm / 2,
      bottomMm: frame.centerYMm - frame.heightMm / 2,
      widthMm: frame.widthMm,
      heightMm: frame.heightMm,
    })
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      warnings,
      at: (x, y, _tone, out) => {
        const on = nearest(x, y)
        out.pitch = pitch
        out.azimuth = start + rates[on.curve]! * on.along
        out.grooveDepth = depth
        out.share = width > 0 && on.distance > width / 2 ? 0 : share
        out.spread = spread
        out.jitter = jitter
        return out
      },
    }
  },
}

/** Radians a mm. A closed curve gets a whole number of half turns, so that it meets itself. */
export function rateOf(curve: Curve, repeatMm: number): number {
  if (!curve.closed) return Math.PI / repeatMm
  const length = lengthOf(curve)
  return (Math.PI * Math.max(1, Math.round(length / repeatMm))) / length
}

function outlineCurves(reader: ParameterReader, frame: EffectFrame): readonly Curve[] {
  const id = reader.get('outlineId')
  if (id !== null && typeof id !== 'string')
    reader.refuse(
      'outlineId',
      `expected the id of an outline or null, got ${JSON.stringify(id)}`,
      'Choose an outline.',
    )
  const rings = (id === null ? undefined : frame.outlines?.(id as string))?.rings ?? []
  return rings.filter(ring => ring.length > 1).map(points => ({ points, closed: true }))
}

/** Pieces of a round form. */
const pieces = 360
const spiralTurns = 3
const waves = 2

/** A form that fills the area, before its size, turn and offset. */
function formOf(
  name: Exclude<CurveName, 'outline'>,
  { centerXMm, centerYMm, widthMm, heightMm }: EffectFrame,
  scale: number,
  turn: number,
  offsetX: number,
  offsetY: number,
): Curve {
  const radius = (scale * Math.min(widthMm, heightMm)) / 2
  const long = scale * (Math.abs(widthMm * Math.cos(turn)) + Math.abs(heightMm * Math.sin(turn)))
  const point = (part: number): PointMm => {
    switch (name) {
      case 'line':
        return [(part - 0.5) * long, 0]
      case 'wave':
        return [(part - 0.5) * long, (radius / 2) * Math.sin(2 * Math.PI * waves * part)]
      case 'circle':
        return [radius * Math.cos(2 * Math.PI * part), radius * Math.sin(2 * Math.PI * part)]
      case 'spiral': {
        const angle = 2 * Math.PI * spiralTurns * part
        return [part * radius * Math.cos(angle), part * radius * Math.sin(angle)]
      }
    }
  }
  const closed = name === 'circle'
  const count = name === 'line' ? 1 : pieces
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  const points = Array.from({ length: closed ? count : count + 1 }, (_, i): PointMm => {
    const [x, y] = point(i / count)
    return [centerXMm + offsetX + x * cos - y * sin, centerYMm + offsetY + x * sin + y * cos]
  })
  return { points, closed }
}
