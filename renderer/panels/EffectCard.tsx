import type { ReactNode } from 'react'
import type { EffectChoice, EffectControl, EffectSpec } from '../../core/effects/effect.ts'
import { judge } from '../../core/effects/judge.ts'
import { effectKind, knownKind } from '../../core/effects/kinds.ts'
import { linesPerMm } from '../stage/angles.ts'
import { Pick } from './Choice.tsx'
import { AnimationCard } from './effects/AnimationCard.tsx'
import { directionOf } from './effects/direction.ts'
import { FollowFields } from './effects/FollowFields.tsx'
import { KindGallery } from './effects/KindGallery.tsx'
import { LayeredCard } from './effects/LayeredCard.tsx'
import { Limits } from './effects/Limits.tsx'
import { NestTurn } from './effects/NestTurn.tsx'
import { ObjectCard } from './effects/ObjectCard.tsx'
import { PresetFields } from './effects/PresetFields.tsx'
import { RegisterFields } from './effects/RegisterFields.tsx'
import { ReliefCard } from './effects/ReliefCard.tsx'
import { SwitchCard } from './effects/SwitchCard.tsx'
import type { EffectSources, PictureCardProps } from './effects/sources.ts'
import { UnknownEffect } from './effects/UnknownEffect.tsx'
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
  /** Back to what the rules take; null where there is no rule. */
  readonly onRule: (() => void) | null
  readonly onSettle: () => void
}

const units = { nm: 'nm', deg: '°', percent: '%', mm: 'mm', '': undefined } as const

/** The kind of holography in an area, and its numbers. */
export function EffectCard({ effect, reason, sources, onChange, onRule, onSettle }: Props) {
  const known = knownKind(effect.kind)
  if (known === undefined)
    return (
      <section className="effect" aria-label="Holography effect">
        <KindGallery kind={effect.kind} onChange={kind => onChange({ kind, parameters: {} }, null)} />
        <UnknownEffect effect={effect} />
      </section>
    )
  const kind = known
  const parameters = { ...kind.defaults, ...effect.parameters }
  const coded = kind.name === 'coded'
  const Pictures = pictureCards[kind.name]
  const shownControls = kind.controls.filter(matters)
  const direction = directionOf(effect)
  const designed = shownControls.filter(control => designKeys.includes(control.key))
  return (
    <section className="effect" aria-label="Holography effect">
      <KindGallery kind={kind.name} onChange={changeKind} />
      <p className="quiet">{kind.says}</p>
      <Limits kind={kind} judged={judge(effect, sources.frame)} />
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
      {parameters.curve === 'outline' ? (
        <Pick
          label="Outline"
          value={typeof parameters.outlineId === 'string' ? parameters.outlineId : ''}
          options={[
            { value: '', title: 'Choose an outline…' },
            ...sources.outlines.map(one => ({ value: one.id, title: one.name })),
          ]}
          onChange={id => put({ outlineId: id === '' ? null : id }, null)}
        />
      ) : null}
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
        <details className="effect-more">
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
      {direction === null ? null : (
        <NestTurn
          directionDeg={direction.deg}
          nestTurnDeg={sources.nestTurnDeg}
          onNestTurn={sources.onNestTurn}
        />
      )}
      <details className="effect-more">
        <summary>Register and tones</summary>
        <RegisterFields
          register={effect.register}
          onChange={(register, gesture) => change({ register }, gesture)}
          onSettle={onSettle}
        />
        <FollowFields
          follow={effect.follow}
          layers={sources.layers}
          hasOwn={sources.hasOwnTones}
          onChange={(follow, gesture) => change({ follow }, gesture)}
          onSettle={onSettle}
        />
      </details>
      <PresetFields effect={effect} {...sources.presets} onApply={preset => onChange(preset, null)} />
      {reason === null && onRule === null ? null : reason === null ? (
        <button type="button" className="plain small" onClick={onRule ?? undefined}>
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
        digits={control.step < 0.1 ? 2 : control.step < 1 ? 1 : 0}
        {...(control.key === 'pitchNm' ? { aside: `${shown(linesPerMm(value), 0)} lines/mm` } : {})}
        onChange={next => put({ [control.key]: next }, control.key)}
        onSettle={onSettle}
      />
    )
  }

  function put(change: Readonly<Record<string, unknown>>, gesture: string | null): void {
    onChange({ ...effect, parameters: { ...effect.parameters, ...change } }, gesture)
  }

  /** How the effect lies and what it follows; what is undefined goes. */
  function change(
    next: { readonly [K in 'register' | 'follow']?: EffectSpec[K] | undefined },
    gesture: string | null,
  ): void {
    const { register, follow, ...rest } = { ...effect, ...next }
    onChange(
      {
        ...rest,
        ...(register === undefined ? {} : { register }),
        ...(follow === undefined ? {} : { follow }),
      },
      gesture,
    )
  }

  /** What both kinds know is kept. */
  function changeKind(name: string): void {
    const { defaults } = effectKind(name)
    const kept = Object.entries(effect.parameters).filter(([key]) => Object.hasOwn(defaults, key))
    onChange({ ...effect, kind: name, parameters: Object.fromEntries(kept.filter(fits(name))) }, null)
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

/** Whether a parameter means the same in another kind: a choice must offer it, a number must lie in its range. */
const fits =
  (name: string) =>
  ([key, value]: [string, unknown]): boolean => {
    const { choices, controls } = effectKind(name)
    const choice = choices.find(one => one.key === key)
    if (choice !== undefined) return choice.options.some(option => option.value === value)
    const control = controls.find(one => one.key === key)
    return (
      control === undefined || (typeof value === 'number' && value >= control.min && value <= control.max)
    )
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
