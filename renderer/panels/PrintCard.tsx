import { useState } from 'react'
import type { Intent } from '../../core/color/profile.ts'
import type { Job } from '../../core/job/job.ts'
import { Pick } from './Choice.tsx'
import { NumberField } from './NumberField.tsx'

interface Props {
  readonly print: Job['print']
  /** What the profile in use calls itself; null until the map is built. */
  readonly condition: string | null
  readonly onPrint: (print: Partial<Job['print']>) => void
  readonly onChoose: () => void
  readonly onSettle: () => void
}

const intents: readonly { readonly value: Intent; readonly title: string; readonly says: string }[] = [
  { value: 'relative', title: 'Relative', says: 'Colorimetric; white ink stays its own white' },
  {
    value: 'absolute',
    title: 'Absolute',
    says: 'Colorimetric; white ink takes the colour of the profile’s paper',
  },
  { value: 'perceptual', title: 'Perceptual', says: 'As the profile’s maker fits pictures into it' },
  { value: 'saturation', title: 'Saturation', says: 'As the profile’s maker keeps colours vivid' },
]

const inks = ['Cyan', 'Magenta', 'Yellow', 'Black'] as const

/** What inks look like on white, by the press's profile, and how their tones grow on foil. */
export function PrintCard({ print, condition, onPrint, onChoose, onSettle }: Props) {
  const [open, setOpen] = useState(false)
  const { profile, intent, blackPoint, toneGain } = print
  const gains = toneGain.some(gain => gain > 0)
  return (
    <section className="coat" aria-label="Print">
      <h2>Print</h2>
      <article className={open ? 'card open' : 'card'}>
        <button type="button" className="card-head" aria-expanded={open} onClick={() => setOpen(!open)}>
          <span className="thumb halftone" aria-hidden="true" />
          <span className="card-name">
            <strong title={condition ?? undefined}>
              {condition ?? (profile === null ? 'Coated board' : nameOf(profile.path))}
            </strong>
            <span className="quiet">
              {intent} intent{gains ? ' · tones grow on foil' : ''}
            </span>
          </span>
        </button>
        {open ? (
          <div className="card-body">
            <p className="quiet">
              {profile === null
                ? 'Inks on white look as this profile (ICC) says; it ships with the app: offset on coated stock.'
                : `Inks on white look as ${nameOf(profile.path)} says.`}
            </p>
            <p className="actions">
              <button type="button" className="plain small" onClick={onChoose}>
                Choose a profile
              </button>
              {profile === null ? null : (
                <button type="button" className="plain small" onClick={() => onPrint({ profile: null })}>
                  Back to the one that ships
                </button>
              )}
            </p>
            <Pick
              label="Rendering intent"
              value={intent}
              options={intents}
              onChange={next => onPrint({ intent: next })}
            />
            <p className="quiet">{intents.find(({ value }) => value === intent)?.says}.</p>
            <label className="tick">
              <input
                type="checkbox"
                checked={intent === 'relative' ? blackPoint : intent !== 'absolute'}
                disabled={intent !== 'relative'}
                onChange={event => onPrint({ blackPoint: event.target.checked })}
              />
              Black point compensation
            </label>
            <p className="quiet">
              {intent === 'relative'
                ? 'On, the darkest print is shown as black; off, as dark as it prints.'
                : intent === 'absolute'
                  ? 'Absolute shows black as dark as it prints.'
                  : 'This intent always compensates the black point.'}
            </p>
            <p className="label">Tone value increase on foil, at 50 %</p>
            <div className="fields two">
              {inks.map((ink, i) => (
                <NumberField
                  key={ink}
                  label={ink}
                  unit="%"
                  value={toneGain[i]! * 100}
                  min={0}
                  max={35}
                  step={1}
                  digits={1}
                  assumed={toneGain[i] === 0}
                  onChange={percent => onPrint({ toneGain: gainWith(toneGain, i, percent / 100) })}
                  onSettle={onSettle}
                />
              ))}
            </div>
            <p className="quiet">
              What a 50 % tone gains when it prints on foil. The profile has its own for white.
            </p>
          </div>
        ) : null}
      </article>
    </section>
  )
}

const nameOf = (path: string): string => path.split('/').at(-1) ?? path

function gainWith(gains: Job['print']['toneGain'], at: number, gain: number): Job['print']['toneGain'] {
  const [c, m, y, k] = gains.map((old, i) => (i === at ? gain : old))
  return [c ?? 0, m ?? 0, y ?? 0, k ?? 0]
}
