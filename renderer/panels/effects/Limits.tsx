import type { EffectKind } from '../../../core/effects/effect.ts'
import type { Judgement } from '../../../core/effects/judge.ts'

interface Props {
  readonly kind: EffectKind
  readonly judged: Judgement
}

/** What the kind can be made with, and what of it will not look as it is meant. */
export function Limits({ kind, judged }: Props) {
  const { smallestMm, pitchNm, says } = kind.limits
  return (
    <>
      <p className="note limits" title={says}>
        Details from {smallestMm} mm · pitch {pitchNm[0]}–{pitchNm[1]} nm
      </p>
      {judged.refused === null ? null : (
        <p className="note wrong" role="alert">
          {judged.refused}
        </p>
      )}
      {judged.warnings.map(({ code, message, fix }) => (
        <p key={code} className="note caution">
          {capital(message)}. {fix}
        </p>
      ))}
    </>
  )
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
