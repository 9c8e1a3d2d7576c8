import { BadInput } from '../base/finding.ts'
import type { ArtTone, EffectFrame, EffectSpec, EffectWarning, GratingSample } from './effect.ts'
import { knownKind, prepareEffect } from './kinds.ts'
import { validatedPitch } from './parameters.ts'
import { type Picture, Raster } from './picture.ts'

/** What is to be said of an effect before a map is made of it. */
export interface Judgement {
  /** Why no map can be made of it; null where one can. */
  readonly refused: string | null
  readonly warnings: readonly EffectWarning[]
}

/** Places that are looked at along each side of the area. */
const looks = 24

/** Looks at an effect all over its area, without its drawing: what of it will not look as it is meant. */
export function judge(spec: EffectSpec, frame: EffectFrame): Judgement {
  if (!knownKind(spec.kind)) return { refused: null, warnings: [] }
  try {
    const prepared = prepareEffect(spec, frame)
    const field =
      prepared.kind === 'pictures' ? prepared.open(prepared.wants.map(() => nothing(frame))) : prepared
    const parts = field.kind === 'beside' ? field.parts : field.kind === 'grating' ? [field] : []
    let finest = Number.POSITIVE_INFINITY
    for (const part of parts)
      for (let i = 0; i < looks * looks; i++) {
        const x = frame.centerXMm + frame.widthMm * (((i % looks) + 0.5) / looks - 0.5)
        const y = frame.centerYMm + frame.heightMm * ((Math.floor(i / looks) + 0.5) / looks - 0.5)
        const { pitch, share } = part.at(x, y, tones[i % tones.length]!, { ...empty })
        if (share > 0) finest = Math.min(finest, pitch)
      }
    if (field.kind === 'views')
      for (const { kx, ky } of field.design.channels) finest = Math.min(finest, 1000 / Math.hypot(kx, ky))
    return { refused: null, warnings: [...(prepared.warnings ?? []), ...fineWarnings(finest)] }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return { refused: error.message, warnings: [] }
  }
}

function fineWarnings(finest: number): readonly EffectWarning[] {
  if (finest >= validatedPitch) return []
  return [
    {
      code: 'pitch-not-validated',
      message: `its pitch goes down to ${Math.round(finest)} nm; below ${validatedPitch} nm the model has not been checked`,
      fix: 'Take its brightness as a rough guide, or choose a wider pitch.',
    },
  ]
}

/** A picture on which nothing is painted. */
function nothing({ centerXMm, centerYMm, widthMm, heightMm }: EffectFrame): Picture {
  const place = { leftMm: centerXMm - widthMm / 2, bottomMm: centerYMm - heightMm / 2, widthMm, heightMm }
  const raster = new Raster(place, 1, 1, new Uint16Array(1))
  return { cover: raster, light: raster }
}

const empty: GratingSample = { pitch: 1000, azimuth: 0, grooveDepth: 0, share: 0, spread: 0, jitter: 0 }
/** Colours all around, for kinds that read a drawing. */
const tones: readonly ArtTone[] = Array.from({ length: 7 }, (_, i) => ({
  lightness: i / 6,
  hue: i / 7,
  chroma: 1,
}))
