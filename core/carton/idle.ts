import type { Finding } from '../base/finding.ts'
import { idleSettings } from './carton.ts'
import { type Setting, settings } from './settings.ts'
import type { CartonSpec, End } from './spec.ts'

/** One note for each allowance that was set and changes nothing, with the end or measure that would use it. */
export const idleFindings = (spec: Omit<CartonSpec, 'caliperMm'>): readonly Finding[] =>
  idleSettings(spec).map(key => {
    const { name, unit }: Setting = settings[key]
    const without =
      key === 'slackMm'
        ? `a size that is taken ${spec.measure}`
        : `a carton with ${ends[spec.top.kind]} top and ${ends[spec.bottom.kind]} bottom`
    return {
      severity: 'note',
      code: 'carton-setting-idle',
      where: name.toLowerCase(),
      message: `${spec.own[key]} ${unit} is set, and ${without} has no use for it: it changes nothing`,
      fix:
        key === 'slackMm'
          ? 'Leave it out, or give the size inside.'
          : 'Leave it out, or choose an end that has it.',
    }
  })

const ends: Readonly<Record<End['kind'], string>> = {
  tuck: 'a tuck',
  seal: 'a glued',
  'snap-lock': 'a snap-lock',
  'crash-lock': 'a crash-lock',
  open: 'an open',
}
