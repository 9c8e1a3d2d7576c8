import { chance, normal } from './chance.ts'
import type { EffectControl, EffectKind } from './effect.ts'
import { cellWarnings, limits } from './limits.ts'
import {
  azimuthControl,
  ParameterReader,
  pitchControl,
  reliefControls,
  reliefDefaults,
  scatterControls,
  seedControl,
  shapeChoice,
} from './parameters.ts'

const lineControls: readonly EffectControl[] = [
  { key: 'lineMm', label: 'Hairline width', unit: 'mm', min: 0.02, max: 2, step: 0.01 },
  { key: 'lengthMm', label: 'Hairline length', unit: 'mm', min: 0.5, max: 500, step: 0.5 },
]
const degree = Math.PI / 180
/** Part of the variance that differs from hairline to hairline; the rest is within each. */
const seen = 0.5

/** Hairlines along the grooves, each a little off in pitch and direction. */
export const brushed: EffectKind = {
  name: 'brushed',
  title: 'Brushed metal',
  says: 'Fine hairlines along the grooves shine as a satin streak with a pale rainbow at its sides, as on brushed metal.',
  limits: limits(0.3, 'A motif needs several hairlines across.'),
  controls: [
    pitchControl,
    azimuthControl,
    ...lineControls,
    seedControl,
    ...scatterControls,
    ...reliefControls,
  ],
  choices: [shapeChoice],
  defaults: {
    pitchNm: 1200,
    azimuthDeg: 90,
    lineMm: 0.12,
    lengthMm: 12,
    seed: 1,
    spreadPercent: 8,
    jitterDeg: 4,
    ...reliefDefaults,
  },
  prepare(parameters, frame) {
    const reader = new ParameterReader(brushed.name, parameters, brushed.defaults)
    const azimuth = reader.number(azimuthControl) * degree
    const [line, length] = lineControls.map(control => reader.number(control)) as [number, number]
    const seed = reader.whole(seedControl)
    const { depth, share, groove } = reader.relief()
    const { spread, jitter } = reader.scatter()
    const pitch = reader.pitch('pitchNm', reader.get('pitchNm'), depth, spread)
    const between = Math.sqrt(seen)
    const within = Math.sqrt(1 - seen)
    const [gx, gy] = [Math.cos(azimuth), Math.sin(azimuth)]
    // The last hairline met, and its grating: its neighbours along a row are mostly the same.
    const last = { across: Number.NaN, along: Number.NaN, begins: 0, pitch, azimuth }
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      warnings: cellWarnings('hairlines', line, frame.pixelMm),
      at: (x, y, _tone, out) => {
        const across = Math.floor((x * gx + y * gy) / line)
        if (across !== last.across) {
          last.across = across
          last.along = Number.NaN
          // Neighbours begin at different places.
          last.begins = chance(across, 0, seed, 4)
        }
        const along = Math.floor((y * gx - x * gy) / length + last.begins)
        if (along !== last.along) {
          last.along = along
          last.pitch = pitch / (1 + between * spread * clipped(normal(across, along, seed, 0)))
          last.azimuth = azimuth + between * jitter * clipped(normal(across, along, seed, 2))
        }
        out.pitch = last.pitch
        out.azimuth = last.azimuth
        out.grooveDepth = depth
        out.share = share
        out.spread = within * spread
        out.jitter = within * jitter
        return out
      },
    }
  },
}

/** Beyond two deviations a hairline would stand out. */
const clipped = (deviate: number): number => Math.max(-2, Math.min(2, deviate))
