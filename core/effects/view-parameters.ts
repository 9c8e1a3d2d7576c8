import type { EffectChoice, EffectControl, EffectFrame, EffectWarning } from './effect.ts'
import {
  type ParameterReader,
  pitchRange,
  reliefControls,
  reliefDefaults,
  shapeChoice,
} from './parameters.ts'
import { readings } from './picture.ts'
import { mostViews } from './view-image.ts'
import { ownBlur, type ViewDesign, type ViewGeometry, viewDesign, viewOverlap, viewStep } from './views.ts'

const degree = Math.PI / 180

export const fanControl: EffectControl = {
  key: 'fanDeg',
  label: 'Views to each side',
  unit: 'deg',
  min: 1,
  max: 45,
  step: 1,
  says: 'Angle from straight-on to the outermost view, on each side.',
}
const directionControl: EffectControl = {
  key: 'directionDeg',
  label: 'Eye moves along',
  unit: 'deg',
  min: -180,
  max: 180,
  step: 1,
  says: '0° is from left to right, 90° from below upwards.',
}
export const designLampControl: EffectControl = {
  key: 'lampElevationDeg',
  label: 'Lamp elevation',
  unit: 'deg',
  min: 10,
  max: 85,
  step: 1,
  says: 'Above the panel’s plane: the light that the views are made for.',
}
export const designWavelengthControl: EffectControl = {
  key: 'wavelengthNm',
  label: 'Colour that is seen',
  unit: 'nm',
  min: 400,
  max: 700,
  step: 5,
  says: 'As a wavelength: 450 blue, 530 green, 580 yellow, 620 red. Under other lamps the colour shifts.',
}
const distanceControls: readonly EffectControl[] = [
  {
    key: 'lampDistanceMm',
    label: 'Lamp distance',
    unit: 'mm',
    min: 100,
    max: 10000,
    step: 50,
  },
  {
    key: 'eyeDistanceMm',
    label: 'Eye distance',
    unit: 'mm',
    min: 100,
    max: 10000,
    step: 50,
  },
]

/** Views of a kind that lets the designer choose; five show depth, more show it smoother and darker. */
export const countControl: EffectControl = {
  key: 'views',
  label: 'Views',
  unit: '',
  min: 5,
  max: mostViews,
  step: 1,
}

export const viewControls: readonly EffectControl[] = [
  fanControl,
  directionControl,
  designLampControl,
  designWavelengthControl,
  ...distanceControls,
  ...reliefControls,
]
export const readingChoice: EffectChoice = {
  key: 'reading',
  label: 'What shines',
  options: [
    { value: 'painted', label: 'All that is painted' },
    { value: 'light', label: 'Light tones' },
    { value: 'dark', label: 'Dark tones' },
  ],
}
export const viewChoices: readonly EffectChoice[] = [readingChoice, shapeChoice]
export const viewDefaults = {
  fanDeg: 20,
  directionDeg: 0,
  lampElevationDeg: 60,
  wavelengthNm: 530,
  lampDistanceMm: 500,
  eyeDistanceMm: 400,
  reading: 'painted',
  maskLayerId: null,
  ...reliefDefaults,
} as const

/**
 * The views that parameters ask for, around the layer's middle.
 * Throws BadInput where a view needs a pitch outside the model.
 */
export function readViews(
  reader: ParameterReader,
  frame: EffectFrame,
  count: number,
  coding: ViewGeometry['coding'] = 'turn',
): { readonly design: ViewDesign; readonly warnings: readonly EffectWarning[] } {
  const [lampDistance, eyeDistance] = distanceControls.map(control => reader.number(control)) as [
    number,
    number,
  ]
  const geometry: ViewGeometry = {
    count,
    fan: reader.number(fanControl) * degree,
    direction: reader.number(directionControl) * degree,
    coding,
    lampElevation: reader.number(designLampControl) * degree,
    wavelength: reader.number(designWavelengthControl),
    lampDistance,
    eyeDistance,
    centerXMm: frame.centerXMm,
    centerYMm: frame.centerYMm,
  }
  const design = viewDesign(geometry)
  const pitches = design.channels.map(({ kx, ky }) => 1000 / Math.hypot(kx, ky))
  const [finest, widest] = [Math.min(...pitches), Math.max(...pitches)]
  if (finest < pitchRange[0] || widest > pitchRange[1])
    reader.refuse(
      'fanDeg and lampElevationDeg',
      `the views would need pitches of ${Math.round(finest)} to ${Math.round(widest)} nm`,
      `Change the lamp’s elevation or narrow the fan until all lie in ${pitchRange[0]}..${pitchRange[1]} nm.`,
    )
  const { depth } = reader.relief()
  if (depth > finest / 2)
    reader.refuse(
      'grooveDepthNm',
      `${depth} nm is more than half of the finest pitch of its views, ${Math.round(finest)} nm`,
      'Choose a shallower groove or a narrower fan.',
    )
  return { design, warnings: warningsOf(geometry, pitches) }
}

function warningsOf(geometry: ViewGeometry, pitches: readonly number[]): readonly EffectWarning[] {
  if (geometry.coding === 'turn') {
    const [step, blur] = [viewStep(geometry), ownBlur(geometry)]
    if (blur <= viewOverlap * step) return []
    const most = Math.max(2, Math.floor((viewOverlap * 2 * Math.sin(geometry.fan)) / blur) + 1)
    return [
      {
        code: 'views-run-together',
        message: `${geometry.count} views stand closer than lamp, eye and board blur them`,
        fix: `Widen the fan, or take at most ${most} views.`,
      },
    ]
  }
  const sorted = pitches.toSorted((a, b) => a - b)
  const near = sorted.some((pitch, i) => i > 0 && pitch / sorted[i - 1]! < clearRatio)
  if (!near) return []
  return [
    {
      code: 'views-share-colours',
      message: 'pitches of neighbouring views are so near that both are seen at once, in different colours',
      fix: 'Widen the fan, or let the views differ by direction.',
    },
  ]
}

/** Ratio of two pitches from which one shows infrared while the other shows blue: 700 / 400. */
const clearRatio = 1.75

/** The layer that limits an effect, or null. */
export function readMask(reader: ParameterReader): string | null {
  return readLayerId(reader, 'maskLayerId')
}

/** A layer's id, or null for none. */
export function readLayerId(reader: ParameterReader, key: string): string | null {
  return layerId(reader, key, reader.get(key))
}

export function layerId(reader: ParameterReader, where: string, value: unknown): string | null {
  if (value === null || (typeof value === 'string' && value !== '')) return value
  return reader.refuse(where, `expected a layer id or null, got ${JSON.stringify(value)}`, 'Choose a layer.')
}

/** All that kinds have in common which show pictures as views: see {@link viewControls} and {@link viewChoices}. */
export function readPictureViews(
  reader: ParameterReader,
  frame: EffectFrame,
  count: number,
  coding: ViewGeometry['coding'] = 'turn',
) {
  return {
    ...readViews(reader, frame, count, coding),
    ...reader.relief(),
    reading: reader.choice('reading', readings),
    maskLayerId: readMask(reader),
  }
}
