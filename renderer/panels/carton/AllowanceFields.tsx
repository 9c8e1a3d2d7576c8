import type { Blank } from '../../../core/carton/blank.ts'
import { usedSettings } from '../../../core/carton/carton.ts'
import { type Allowances, type Setting, settingKeys, settings } from '../../../core/carton/settings.ts'
import type { SizedForm } from '../../../core/job/carton.ts'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly form: SizedForm
  /** Null where the sizes make no carton. */
  readonly blank: Blank | null
  readonly onForm: (form: Partial<SizedForm>, gesture: string | null) => void
  readonly onSettle: () => void
}

/**
 * The allowances that such a carton is drawn with, each with its usual value, status and source. What is set here stays
 * when sizes or ends change, and is shown where these ends do not use it.
 */
export function AllowanceFields({ form, blank, onForm, onSettle }: Props) {
  const usual = usualOf(form, blank)
  const inUse = usedSettings(form)
  return (
    <div className="fields two">
      {settingKeys.map(key => {
        const used = inUse.has(key)
        if (!used && form.own[key] === undefined) return null
        const { name, says, unit, range, status, source }: Setting = settings[key]
        const own = form.own[key]
        return (
          <NumberField
            key={key}
            label={name}
            says={`${says}. ${status}: ${source}`}
            unit={unit}
            value={own ?? usual[key]}
            min={range[0]}
            max={range[1]}
            step={unit === '°' ? 1 : 0.5}
            digits={2}
            aside={own === undefined ? 'usual' : used ? 'set' : 'set, not used'}
            onChange={value => onForm({ own: { ...form.own, [key]: value } }, `allowance ${key}`)}
            onSettle={onSettle}
          />
        )
      })}
      <p className="actions">
        <button
          type="button"
          className="plain small"
          disabled={Object.keys(form.own).length === 0}
          onClick={() => onForm({ own: {} }, null)}
        >
          All as usual
        </button>
      </p>
    </div>
  )
}

/** What stands where nothing was set; of the sizes as they are entered. */
function usualOf(form: SizedForm, blank: Blank | null): Allowances {
  const { lengthMm, widthMm, heightMm } = form
  const sizes = { lengthMm, widthMm, heightMm, caliperMm: blank?.caliperMm ?? 0.4 }
  return Object.fromEntries(
    settingKeys.map(key => [key, (settings[key] as Setting).usual(sizes)]),
  ) as unknown as Allowances
}
