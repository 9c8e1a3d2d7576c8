import type { Group } from '../../../../core/checks/register/groups.ts'
import { type Misfit, misfitOf, type Register } from '../../../../core/job/register.ts'
import { Choice } from '../../Choice.tsx'
import { shown } from '../../NumberField.tsx'
import { Slide } from '../../Slide.tsx'
import { groupWords } from './words.ts'

interface Props {
  readonly register: Register
  readonly groups: readonly Group[]
  /** The group whose sliders are shown. */
  readonly group: Group
  readonly onGroup: (group: Group) => void
  readonly onChange: (change: Partial<Misfit>, field: keyof Misfit) => void
  readonly onSettle: () => void
}

/** Ends of the sliders: what a plant's worst day comes to. A job may have more. */
const offset = { most: 2, step: 0.01, digits: 2, unit: ' mm' }
const turn = { most: 0.5, step: 0.005, digits: 3, unit: '°' }
const stretch = { most: 0.5, step: 0.01, digits: 2, unit: ' %' }

const fields: readonly (readonly [keyof Misfit, string, typeof offset])[] = [
  ['xMm', 'To the right', offset],
  ['yMm', 'Up', offset],
  ['turnDeg', 'Turned, counter-clockwise', turn],
  ['stretchXPercent', 'Wider', stretch],
  ['stretchYPercent', 'Higher', stretch],
]

/** Sliders that move one group of plates against the others; the picture follows. */
export function MisfitFields({ register, groups, group, onGroup, onChange, onSettle }: Props) {
  const misfit = misfitOf(register, group)
  return (
    <div className="misfit">
      <Choice
        label="What is moved"
        value={group}
        options={groups.map(value => ({ value, title: groupWords[value] }))}
        onChange={onGroup}
      />
      <p className="quiet" role="status">
        {movedWords(groups.filter(one => register[one] !== undefined))}
      </p>
      {fields.map(([field, label, { most, step, digits, unit }]) => (
        <Slide
          key={field}
          label={label}
          value={Math.min(most, Math.max(-most, misfit[field]))}
          min={-most}
          max={most}
          step={step}
          says={`${shown(misfit[field], digits)}${unit}`}
          onChange={value => onChange({ [field]: value }, field)}
          onSettle={onSettle}
        />
      ))}
    </div>
  )
}

const movedWords = (moved: readonly Group[]): string =>
  moved.length === 0
    ? 'Everything lies as drawn.'
    : `Not as drawn: ${moved.map(one => groupWords[one].toLowerCase()).join(', ')}.`
