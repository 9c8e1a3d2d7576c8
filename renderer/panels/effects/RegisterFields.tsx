import type { EffectSpec } from '../../../core/effects/effect.ts'
import { type Register, registerRanges } from '../../../core/effects/register.ts'
import { Choice } from '../Choice.tsx'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly register: EffectSpec['register']
  readonly onChange: (register: Register | undefined, gesture: string | null) => void
  readonly onSettle: () => void
}

type Continuous = Extract<Register, { readonly mode: 'continuous' }>

const usual: Continuous = { mode: 'continuous', repeatMm: 120, seamMm: 0.5, directionDeg: 90, sheet: 1 }

/** Whether the holography keeps its place to the print, and where it lies where it does not. */
export function RegisterFields({ register, onChange, onSettle }: Props) {
  const floats = register?.mode === 'continuous' ? register : null
  return (
    <>
      <Choice
        label="Place to the print"
        value={floats === null ? 'registered' : 'continuous'}
        options={[
          { value: 'registered', title: 'In register', says: 'The same on every sheet.' },
          {
            value: 'continuous',
            title: 'Continuous',
            says: 'The master repeats along the web and lies elsewhere on each sheet; a seam shows between repeats.',
          },
        ]}
        onChange={mode => onChange(mode === 'registered' ? undefined : usual, null)}
      />
      {floats === null ? null : (
        <>
          <div className="fields two">
            {field(floats, 'repeatMm', 'Repeat of the master', 'mm', 1)}
            {field(floats, 'seamMm', 'Width of the seam', 'mm', 0.1)}
            {field(floats, 'directionDeg', 'Direction of the web', '°', 1)}
            {field(floats, 'sheet', 'Sheet (0: as designed)', undefined, 1)}
          </div>
          <button
            type="button"
            className="plain small"
            onClick={() => onChange({ ...floats, sheet: floats.sheet + 1 }, null)}
          >
            Next sheet
          </button>
        </>
      )}
    </>
  )

  function field(
    of: Continuous,
    key: keyof typeof registerRanges,
    label: string,
    unit: string | undefined,
    step: number,
  ) {
    const [min, max] = registerRanges[key]
    return (
      <NumberField
        label={label}
        value={of[key]}
        {...(unit === undefined ? {} : { unit })}
        min={min}
        max={max}
        step={step}
        digits={step < 1 ? 1 : 0}
        onChange={value => onChange({ ...of, [key]: key === 'sheet' ? Math.round(value) : value }, key)}
        onSettle={onSettle}
      />
    )
  }
}
