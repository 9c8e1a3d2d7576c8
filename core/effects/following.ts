import type { EffectField, EffectWarning, GratingField, OpenField, Wanted } from './effect.ts'
import type { Follow } from './follow.ts'
import type { Picture } from './picture.ts'

/**
 * A field that grows weaker with the tones of artwork. What is not painted counts as white. A share goes with the tone,
 * a depth with its square root, as flat grooves send light by the square of their depth: so both follow alike.
 */
export function following(field: EffectField, follow: Follow): EffectField {
  const wanted: Wanted = follow.from === 'own' ? { from: 'own' } : { from: 'layer', id: follow.from.layerId }
  const views = field.kind === 'views'
  return {
    kind: 'pictures',
    groove: field.groove,
    maskLayerId: field.maskLayerId,
    wants: field.kind === 'pictures' ? [...field.wants, wanted] : [wanted],
    lends: field.kind === 'pictures' ? (field.lends ?? field.wants) : [],
    warnings: [...(field.warnings ?? []), ...(views && follow.what === 'depth' ? [oneDepth] : [])],
    open: pictures => {
      const inner = field.kind === 'pictures' ? field.open(pictures.slice(0, -1)) : field
      return weaker(inner, pictures.at(-1)!, follow)
    },
  }
}

/**
 * What is left under a tone, 0..1.
 * @param light lightness, 0..1
 * @param gain  as {@link Follow} has it
 */
export function leftUnder(light: number, gain: number): number {
  return gain >= 0 ? 1 - gain * (1 - light) : 1 + gain * light
}

function weaker(field: OpenField, { cover, light }: Picture, { what, gain }: Follow): OpenField {
  const left = (x: number, y: number) =>
    leftUnder(Math.max(0, Math.min(1, light.at(x, y) + 1 - cover.at(x, y))), gain)
  const grating = (part: GratingField): GratingField => ({
    ...part,
    at: (x, y, tone, out) => {
      part.at(x, y, tone, out)
      if (what === 'share') out.share *= left(x, y)
      else out.grooveDepth *= Math.sqrt(left(x, y))
      return out
    },
  })
  switch (field.kind) {
    case 'grating':
      return grating(field)
    case 'beside':
      return { ...field, parts: field.parts.map(grating) }
    case 'views':
      return {
        ...field,
        at: (x: number, y: number, out: Float64Array) => {
          field.at(x, y, out)
          const part = left(x, y)
          for (let i = 0; i < out.length; i++) out[i]! *= part
          return out
        },
      }
  }
}

const oneDepth: EffectWarning = {
  code: 'views-one-depth',
  message: 'views have one groove depth, so their share of the area follows the tones instead',
  fix: 'Let the share follow, which is the same to the eye.',
}
