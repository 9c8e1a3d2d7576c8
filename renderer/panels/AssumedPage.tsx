import { type AssumedNumber, type AssumedStatus, measuredNote } from '../../core/job/assumed.ts'
import type { Job } from '../../core/job/job.ts'
import { NumberField, shown } from './NumberField.tsx'

interface Props {
  readonly job: Job
  readonly numbers: readonly AssumedNumber[]
  readonly onSet: (number: AssumedNumber, value: number) => void
  readonly onMeasured: (number: AssumedNumber, note: string) => void
  readonly onSettle: () => void
}

const statusWords: Readonly<Record<AssumedStatus, string>> = {
  published: 'published',
  computed: 'computed',
  'from memory': 'from memory',
  'common practice': 'common practice',
  proposed: 'our proposal',
  'from the file': 'from the file',
}

/** Every number that nobody has measured, what it does, and where a measured one goes. */
export function AssumedPage({ job, numbers, onSet, onMeasured, onSettle }: Props) {
  const groups = [...new Set(numbers.map(one => one.group))]
  return (
    <div className="assumed-page">
      <p className="quiet">
        The picture rests on these numbers. Each has a usual value until somebody measures it; then its place
        is here, with a word on who measured it, when and with what.
      </p>
      {groups.map(group => (
        <section key={group}>
          <h3>{group}</h3>
          <ul>
            {numbers
              .filter(one => one.group === group)
              .map(one => (
                <li key={one.key}>
                  <div className="assumed-head">
                    <div>
                      <strong>{one.name}</strong>
                      <p className="quiet">{one.says}</p>
                    </div>
                    <div>
                      <Value number={one} onSet={onSet} onSettle={onSettle} />
                    </div>
                  </div>
                  <p className="quiet">
                    <em>{statusWords[one.status]}</em> {sentence(one.source)} To measure:{' '}
                    {one.measure.charAt(0).toLowerCase() + one.measure.slice(1)}
                  </p>
                  <label className="naming">
                    <span className="label">Measured: with what, by whom, when</span>
                    <span className="well">
                      <input
                        value={measuredNote(job, one.key) ?? ''}
                        maxLength={300}
                        onChange={event => onMeasured(one, event.target.value)}
                        onBlur={onSettle}
                      />
                    </span>
                  </label>
                </li>
              ))}
          </ul>
        </section>
      ))}
    </div>
  )
}

function Value({
  number,
  onSet,
  onSettle,
}: Pick<Props, 'onSet' | 'onSettle'> & { readonly number: AssumedNumber }) {
  const { value, usual, unit, range, field } = number
  if (field === null || typeof value === 'string')
    return <p className="assumed-word">{typeof value === 'string' ? value : `${shown(value, 1)} ${unit}`}</p>
  return (
    <>
      <NumberField
        label="Now"
        {...(unit === '' ? {} : { unit })}
        value={value}
        min={field.min}
        max={field.max}
        step={field.step}
        digits={field.digits}
        onChange={next => onSet(number, next)}
        onSettle={onSettle}
      />
      {range === null || typeof usual === 'string' ? null : (
        <RangeBar range={range} usual={usual} value={value} digits={field.digits} unit={unit} />
      )}
    </>
  )
}

/** With a capital and a full stop. */
const sentence = (text: string): string =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`

interface BarProps {
  readonly range: readonly [number, number]
  readonly usual: number
  readonly value: number
  readonly digits: number
  readonly unit: string
}

/** What is plausible as a line, the usual value as a tick, the present one as a dot. */
function RangeBar({ range: [low, high], usual, value, digits, unit }: BarProps) {
  const at = (x: number) => 6 + 188 * Math.min(1, Math.max(0, (x - low) / (high - low)))
  const says = `plausible ${shown(low, digits)} to ${shown(high, digits)}${unit === '' ? '' : ` ${unit}`}, usual ${shown(usual, digits)}`
  return (
    <div>
      <svg viewBox="0 0 200 14" width="100%" height="14" role="img" aria-label={says}>
        <line x1="6" x2="194" y1="7" y2="7" stroke="currentColor" strokeWidth="1.5" />
        <line x1={at(usual)} x2={at(usual)} y1="1" y2="13" stroke="currentColor" strokeWidth="1.5" />
        <circle cx={at(value)} cy="7" r="4" fill="currentColor" />
      </svg>
      <span className="quiet">{says}</span>
    </div>
  )
}
