import type { ReactNode } from 'react'
import type { EffectChoice, EffectControl, EffectSpec } from '../../core/effects/effect.ts'
import { effectKind, effectKinds } from '../../core/effects/kinds.ts'
import { linesPerMm } from '../state/angles.ts'
import { Pick } from './Choice.tsx'
import { AnimationCard } from './effects/AnimationCard.tsx'
import { LayeredCard } from './effects/LayeredCard.tsx'
import { ObjectCard } from './effects/ObjectCard.tsx'
import { ReliefCard } from './effects/ReliefCard.tsx'
import { SwitchCard } from './effects/SwitchCard.tsx'
import type { EffectSources, PictureCardProps } from './effects/sources.ts'
import { LegendTable } from './LegendTable.tsx'
import { NumberField, shown } from './NumberField.tsx'
import { firstProfile, ProfileField } from './ProfileField.tsx'

interface Props {
  readonly effect: EffectSpec
  /** Why the rules took this effect; null when it was chosen. */
  readonly reason: string | null
  /** Layers and files that an effect may show or be limited by. */
  readonly sources: EffectSources
  readonly onChange: (effect: EffectSpec, gesture: string | null) => void
  /** Back to what the rules take. */
  readonly onRule: () => void
  readonly onSettle: () => void
}

const kindOptions = effectKinds.map(kind => ({ value: kind.name, title: kind.title }))
const units = { nm: 'nm', deg: '°', percent: '%', mm: 'mm', '': undefined } as const

/** The kind of holography in an area, and its numbers. */
export function EffectCard({ effect, reason, sources, onChange, onRule, onSettle }: Props) {
  const kind = effectKind(effect.kind)
  const parameters = { ...kind.defaults, ...effect.parameters }
  const coded = kind.name === 'coded'
  const Pictures = pictureCards[kind.name]
  const shownControls = kind.controls.filter(matters)
  const designed = shownControls.filter(control => designKeys.includes(control.key))
  return (
    <section className="effect" aria-label="Holography effect">
      <Pick label="Effect" value={kind.name} options={kindOptions} onChange={changeKind} />
      <p className="quiet">{kind.says}</p>
      {Pictures === undefined ? null : (
        <Pictures kind={kind} parameters={parameters} sources={sources} put={put} onSettle={onSettle} />
      )}
      {kind.choices.map(choice => (
        <Pick
          key={choice.key}
          label={choice.label}
          value={String(parameters[choice.key])}
          options={choice.options.map(option => ({ value: option.value, title: option.label }))}
          onChange={value => changeChoice(choice, value)}
        />
      ))}
      {parameters.shape === 'sampled' ? (
        <ProfileField profile={parameters.profile} onChange={profile => put({ profile }, 'profile')} />
      ) : null}
      {coded ? (
        <LegendTable
          parameters={effect.parameters}
          onChange={stops => put({ stops }, 'legend')}
          onSettle={onSettle}
        />
      ) : null}
      <div className="fields two">
        {shownControls.filter(control => !designKeys.includes(control.key)).map(field)}
      </div>
      {designed.length === 0 ? null : (
        <details className="design">
          <summary>The light and the eye it is made for</summary>
          <div className="fields two">{designed.map(field)}</div>
        </details>
      )}
      {'maskLayerId' in kind.defaults ? (
        <Pick
          label="Limited to"
          value={typeof parameters.maskLayerId === 'string' ? parameters.maskLayerId : ''}
          options={[
            { value: '', title: 'where this layer has pixels' },
            ...sources.layers.map(layer => ({ value: layer.id, title: `where “${layer.name}” has pixels` })),
          ]}
          onChange={id => put({ maskLayerId: id === '' ? null : id }, null)}
        />
      ) : null}
      {reason === null ? (
        <button type="button" className="plain small" onClick={onRule}>
          Back to the effect that was found
        </button>
      ) : (
        <p className="note">
          <em>assumed</em> {reason}
        </p>
      )}
    </section>
  )

  /** Not replaced by the legend or a drawing of its own, and wanted by the choices. */
  function matters({ key, when }: EffectControl): boolean {
    if (coded && key === replacedBy(parameters)) return false
    if (kind.name === 'layered' && key === 'depthMm') return false
    return when === undefined || when.values.includes(String(parameters[when.key]))
  }

  function field(control: EffectControl) {
    const value = Number(parameters[control.key])
    const unit = units[control.unit]
    return (
      <NumberField
        key={control.key}
        label={control.label}
        value={value}
        {...(unit === undefined ? {} : { unit })}
        says={control.says}
        min={control.min}
        max={control.max}
        step={control.step}
        digits={control.step < 1 ? 1 : 0}
        {...(control.key === 'pitchNm' ? { aside: `${shown(linesPerMm(value), 0)} lines/mm` } : {})}
        onChange={next => put({ [control.key]: next }, control.key)}
        onSettle={onSettle}
      />
    )
  }

  function put(change: Readonly<Record<string, unknown>>, gesture: string | null): void {
    onChange({ kind: kind.name, parameters: { ...effect.parameters, ...change } }, gesture)
  }

  /** What both kinds know is kept. */
  function changeKind(name: string): void {
    const { defaults } = effectKind(name)
    const kept = Object.entries(effect.parameters).filter(([key]) => Object.hasOwn(defaults, key))
    onChange({ kind: name, parameters: Object.fromEntries(kept) }, null)
  }

  /** A legend belongs to what is read and what it stands for. */
  function changeChoice(choice: EffectChoice, value: string): void {
    const forgets = coded && (choice.key === 'code' || choice.key === 'gives')
    const begins = value === 'sampled' && parameters.profile === null
    put(
      {
        [choice.key]: value,
        ...(forgets ? { stops: null } : {}),
        ...(begins ? { profile: firstProfile } : {}),
      },
      null,
    )
  }
}

/** Numbers that are set once for a carton, out of sight until asked for. */
const designKeys: readonly string[] = [
  'directionDeg',
  'lampElevationDeg',
  'wavelengthNm',
  'lampDistanceMm',
  'eyeDistanceMm',
]

/** Kinds whose pictures are chosen one by one. */
const pictureCards: Readonly<Record<string, (props: PictureCardProps) => ReactNode>> = {
  layered: LayeredCard,
  switch: SwitchCard,
  animation: AnimationCard,
  'object-views': ObjectCard,
  relief: ReliefCard,
}

/** The number that the legend gives in place of a field. */
const replacedBy = (parameters: Readonly<Record<string, unknown>>): string =>
  parameters.gives === 'azimuth' ? 'azimuthDeg' : 'pitchNm'
