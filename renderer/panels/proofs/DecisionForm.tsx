import { useId, useState } from 'react'
import type { Asked } from '../../../core/proof/round.ts'
import {
  type Decision,
  decisionNames,
  decisionWords,
  roleTerms,
  type SignedDecision,
  signoffLimits,
  signoffStatement,
  type Viewing,
  viewingConditions,
  viewingWords,
} from '../../../core/proof/signoff.ts'
import { Choice, Pick } from '../Choice.tsx'
import { SmallForm, WordsLine } from '../checks/SmallForm.tsx'
import { NumberField } from '../NumberField.tsx'

/** What a form says of a decision; the moment and the notes are added by who keeps it. */
export type Decided = Omit<SignedDecision, 'kind' | 'at' | 'notes'>

interface Props {
  readonly people: readonly Asked[]
  /** White that the job is shown for. */
  readonly white: string
  readonly onSign: (decided: Decided) => void
  readonly onCancel: () => void
}

/** The decision of one who was asked: what, under which conditions, and where and on what it was looked at. */
export function DecisionForm({ people, white, onSign, onCancel }: Props) {
  const [first] = people.filter(one => one.said === null)
  const [name, setName] = useState(first?.name ?? people[0]?.name ?? '')
  const [decision, setDecision] = useState<Decision>('Approved')
  const [conditions, setConditions] = useState('')
  const [reason, setReason] = useState('')
  const [viewing, setViewing] = useState<Viewing | null>(null)
  const [display, setDisplay] = useState('')
  const [luminance, setLuminance] = useState(0)
  const [calibratedOn, setCalibratedOn] = useState('')
  const id = useId()
  const person = people.find(one => one.name === name)
  const listed = conditions
    .split('\n')
    .map(line => line.trim())
    .filter(line => line !== '')
  const lacks =
    decision === 'Rejected' && reason.trim() === ''
      ? 'Say why a new proof is needed.'
      : decision === 'ApprovedWithComment' && listed.length === 0 && reason.trim() === ''
        ? 'Say which corrections.'
        : null
  const look = (change: Partial<Viewing>): void =>
    setViewing({ condition: 'room', lux: null, light: '', room: '', ...viewing, ...change })
  return (
    <SmallForm
      does="Sign"
      whole={person !== undefined && lacks === null}
      onSend={() => {
        if (person === undefined) return
        onSign({
          by: person.name,
          role: person.role,
          decision,
          conditions: listed,
          reason: reason.trim(),
          viewing: viewing && { ...viewing, light: viewing.light.trim(), room: viewing.room.trim() },
          display:
            display.trim() === ''
              ? null
              : {
                  kind: display.trim(),
                  white,
                  luminance: luminance > 0 ? luminance : null,
                  profile: '',
                  calibratedOn: calibratedOn === '' ? null : calibratedOn,
                },
        })
      }}
      onCancel={onCancel}
    >
      <Pick
        label="Who decides"
        value={name}
        options={people.map(one => ({ value: one.name, title: `${one.name}, ${roleTerms[one.role]}` }))}
        onChange={setName}
      />
      <Choice
        label="Decision"
        value={decision}
        options={decisionNames.map(value => ({ value, title: decisionWords[value] }))}
        onChange={setDecision}
      />
      <div className="naming">
        <label className="label" htmlFor={`${id}c`}>
          {decision === 'ApprovedWithComment'
            ? 'Corrections and conditions, one a line'
            : 'Conditions, one a line'}
        </label>
        <textarea
          id={`${id}c`}
          className="words"
          rows={2}
          value={conditions}
          maxLength={signoffLimits.text}
          placeholder="subject to the holography lab’s sample"
          onChange={event => setConditions(event.target.value)}
        />
      </div>
      <WordsLine
        label={decision === 'Rejected' ? 'Why a new proof is needed' : 'Reason, if there is one'}
        value={reason}
        most={signoffLimits.text}
        needed={decision === 'Rejected'}
        onChange={setReason}
      />
      <div className="sign-look">
        <div className="whole">
          <Pick
            label="Looked at in"
            value={viewing?.condition ?? 'unsaid'}
            options={[
              { value: 'unsaid', title: 'not said' },
              ...viewingConditions.map(value => ({ value, title: viewingWords[value] })),
            ]}
            onChange={next =>
              next === 'unsaid' ? setViewing(null) : look({ condition: next as Viewing['condition'] })
            }
          />
        </div>
        {viewing === null ? null : (
          <WordsLine
            label="Its light"
            value={viewing.light}
            most={signoffLimits.text}
            needed={false}
            onChange={light => look({ light })}
          />
        )}
        {viewing === null ? null : (
          <WordsLine
            label="Where"
            value={viewing.room}
            most={signoffLimits.text}
            needed={false}
            onChange={room => look({ room })}
          />
        )}
        <WordsLine
          label="On which screen"
          value={display}
          most={signoffLimits.text}
          needed={false}
          onChange={setDisplay}
        />
        {display.trim() === '' ? null : (
          <>
            <NumberField
              label="Luminance of its white"
              unit="cd/m²"
              value={luminance}
              min={0}
              max={10_000}
              step={10}
              aside={luminance === 0 ? 'nobody measured' : `set to ${white}`}
              onChange={setLuminance}
            />
            <div className="naming">
              <label className="label" htmlFor={`${id}d`}>
                Last calibrated on
              </label>
              <span className="well">
                <input
                  id={`${id}d`}
                  type="date"
                  value={calibratedOn}
                  onChange={event => setCalibratedOn(event.target.value)}
                />
              </span>
            </div>
          </>
        )}
      </div>
      {lacks === null ? null : <p className="quiet">{lacks}</p>}
      <details>
        <summary>What this record is worth</summary>
        <p className="quiet">{signoffStatement}</p>
      </details>
    </SmallForm>
  )
}
