import type { EffectControl, EffectKind } from './effect.ts'
import { gradedControls, gradedDefaults, readGraded } from './lens.ts'
import { designedLimits } from './limits.ts'
import { ParameterReader, reliefControls, reliefDefaults, shapeChoice } from './parameters.ts'
import { designLampControl, designWavelengthControl } from './view-parameters.ts'

const waveControls: readonly EffectControl[] = [
  { key: 'lengthMm', label: 'Crest to crest', unit: 'mm', min: 0.5, max: 500, step: 0.5 },
  { key: 'heightMm', label: 'Apparent height', unit: 'mm', min: 0.01, max: 50, step: 0.01 },
  {
    key: 'runDeg',
    label: 'Wave direction',
    unit: 'deg',
    min: -180,
    max: 180,
    step: 1,
    says: '0° is from left to right, 90° from below upwards.',
  },
  {
    key: 'swayMm',
    label: 'Sway of the crests',
    unit: 'mm',
    min: 0,
    max: 200,
    step: 0.5,
    says: 'How far the crests swing to either side, as a ribbon does.',
  },
  { key: 'swayLengthMm', label: 'Length of a sway', unit: 'mm', min: 1, max: 2000, step: 1 },
]
const degree = Math.PI / 180

/** A surface z = ½ H sin 2π(u/Λ + …) that seems to swing up and down. */
export const wave: EffectKind = {
  name: 'wave',
  title: 'Waves and ribbons',
  says: 'The flat foil seems to swing up and down in waves, or in ribbons that sway: light climbs the flanks as the carton tilts. Crests and hollows, which lie level, stay plain.',
  limits: designedLimits(1, 'A wave needs about ten pixels of the map from crest to crest.'),
  controls: [
    ...waveControls,
    designLampControl,
    designWavelengthControl,
    ...gradedControls,
    ...reliefControls,
  ],
  choices: [shapeChoice],
  defaults: {
    lengthMm: 10,
    heightMm: 0.9,
    runDeg: 90,
    swayMm: 3,
    swayLengthMm: 40,
    lampElevationDeg: 60,
    wavelengthNm: 550,
    ...gradedDefaults,
    ...reliefDefaults,
    shape: 'blazed',
    grooveDepthNm: 150,
  },
  prepare(parameters, frame) {
    const reader = new ParameterReader(wave.name, parameters, wave.defaults)
    const [length, height, run, sway, swayLength] = waveControls.map(control => reader.number(control)) as [
      number,
      number,
      number,
      number,
      number,
    ]
    const λ = reader.number(designWavelengthControl)
    // As for a relief from tones: a facet of slope s sends the lamp straight up where (l + v)_t = −s (l + v)_z.
    const upright = 1 + Math.sin(reader.number(designLampControl) * degree)
    const { finest, widest } = readGraded(reader)
    const { depth, share, groove } = reader.relief()
    const [ux, uy] = [Math.cos(run * degree), Math.sin(run * degree)]
    const steepest = (Math.PI * height) / length
    const flattened = steepest * upright > λ / finest
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      warnings: [
        ...(flattened
          ? [
              {
                code: 'too-steep',
                message: `its flanks are steeper than the finest pitch of ${finest} nm can show, and are flattened there`,
                fix: `Make the waves longer, or at most ${((λ * length) / (Math.PI * upright * finest)).toFixed(2)} mm high.`,
              },
            ]
          : []),
        ...(frame.pixelMm !== undefined && length < 10 * frame.pixelMm
          ? [
              {
                code: 'finer-than-map',
                message: `a wave of ${length} mm has fewer than ten pixels of the map, so its flanks run together`,
                fix: 'Make the waves longer, or raise the resolution of the map.',
              },
            ]
          : []),
      ],
      at: (x, y, _tone, out) => {
        const u = (x - frame.centerXMm) * ux + (y - frame.centerYMm) * uy
        const v = (y - frame.centerYMm) * ux - (x - frame.centerXMm) * uy
        const swing = (2 * Math.PI * v) / swayLength
        const slope = steepest * Math.cos((2 * Math.PI * (u + sway * Math.sin(swing))) / length)
        const slopeV = slope * ((2 * Math.PI * sway) / swayLength) * Math.cos(swing)
        const [sx, sy] = [slope * ux - slopeV * uy, slope * uy + slopeV * ux]
        const pitch = λ / (upright * Math.hypot(sx, sy))
        out.pitch = Math.max(finest, Math.min(widest, pitch))
        out.azimuth = Math.atan2(-sy, -sx)
        out.grooveDepth = depth
        out.share = pitch > widest ? 0 : share
        out.spread = 0
        out.jitter = 0
        return out
      },
    }
  },
}
