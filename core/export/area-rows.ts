import type { EffectSpec } from '../effects/effect.ts'
import { effectKinds } from '../effects/kinds.ts'
import type { Job } from '../job/job.ts'
import type { MapArea, MaterialMap } from '../material/map.ts'
import { round } from './report-words.ts'

/** An area of holography and what is embossed there, in words; a word that its effect has no number for is empty. */
export interface AreaRow {
  readonly area: MapArea
  /** What makes the effect; null where it is not known to this version. */
  readonly spec: EffectSpec | null
  readonly effect: string
  readonly pitch: string
  readonly direction: string
  readonly depth: string
  readonly shape: string
  readonly share: string
}

export function areaRows(
  job: Pick<Job, 'effects'>,
  { areas }: Pick<MaterialMap, 'areas'>,
): readonly AreaRow[] {
  return areas
    .filter(area => area.id > 0 || area.effect !== '')
    .map(area => {
      const chosen = job.effects.find(one => one.target.id === area.layerId)
      const kind = effectKinds.find(one => one.name === area.effect)
      const parameters = { ...kind?.defaults, ...chosen?.effect.parameters }
      return {
        area,
        spec: kind === undefined ? null : (chosen?.effect ?? { kind: kind.name, parameters: kind.defaults }),
        effect: `${kind?.title ?? area.effect}${chosen === undefined ? ' (by rule)' : ''}`,
        pitch: pitchWords(parameters),
        direction: numberWords(parameters.azimuthDeg, '°'),
        depth: numberWords(parameters.grooveDepthNm, 'nm'),
        shape: typeof parameters.shape === 'string' ? parameters.shape : '',
        share: numberWords(parameters.sharePercent, '%'),
      }
    })
}

const pitchWords = ({ pitchNm }: Readonly<Record<string, unknown>>): string =>
  typeof pitchNm === 'number' ? `${round(pitchNm, 0)} nm (${round(1e6 / pitchNm, 0)} lines/mm)` : ''

const numberWords = (value: unknown, unit: string): string =>
  typeof value === 'number' ? `${round(value, 1)}${unit === '°' ? '' : ' '}${unit}` : ''
