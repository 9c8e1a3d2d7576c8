import type { Finding } from '../base/finding.ts'
import { usedSettings } from './carton.ts'
import { type Setting, settingKeys, settings } from './settings.ts'
import type { CartonSpec, End } from './spec.ts'

/** One note for each allowance that was set and changes nothing, with the ends or the measure that have no use for it. */
export function idleFindings(spec: Omit<CartonSpec, 'caliperMm'>): readonly Finding[] {
  const used = usedSettings(spec)
  return settingKeys.flatMap((key): readonly Finding[] => {
    if (spec.own[key] === undefined || used.has(key)) return []
    const { name, unit }: Setting = settings[key]
    const without =
      key === 'slackMm'
        ? `a size that is taken ${spec.measure}`
        : `a carton with ${ends[spec.top.kind]} top and ${ends[spec.bottom.kind]} bottom`
    return [
      {
        severity: 'note',
        code: 'carton-setting-idle',
        where: name.toLowerCase(),
        message: `${spec.own[key]} ${unit} is set, and ${without} has no use for it: it changes nothing`,
        fix:
          key === 'slackMm'
            ? 'Leave it out, or give the size inside.'
            : 'Leave it out, or choose an end that has it.',
      },
    ]
  })
}

const ends: Readonly<Record<End['kind'], string>> = {
  tuck: 'a tuck',
  seal: 'a glued',
  'snap-lock': 'a snap-lock',
  'crash-lock': 'a crash-lock',
  open: 'an open',
}
