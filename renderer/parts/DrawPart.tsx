import { boundsOf, type EffectTarget } from '../../core/effects/outline.ts'
import { around, directionOnSheet } from '../../core/effects/sheet-direction.ts'
import { putOutline, sameTarget, setEffect } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { directionOf } from '../panels/effects/direction.ts'
import type { Arrow } from '../scene/ArrowHandle.tsx'
import { DrawOver } from '../scene/DrawOver.tsx'
import { within } from '../stage/angles.ts'
import type { Look } from '../stage/place.ts'
import { placeOf } from '../state/effectSources.ts'
import { markDrawn, stopDrawing } from '../state/marks.ts'
import { addOutline } from '../state/outlines.ts'
import type { State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'

interface Props {
  readonly store: Store<State>
  readonly state: State
  readonly job: Job
  readonly look: Look
}

/** What is drawn over the picture, joined to the state: shapes, and the direction of the effect whose card is open. */
export function DrawPart({ store, state, job, look }: Props) {
  const { card, drawing } = state.view
  const target = card === null || card === 'board' ? null : card
  const chosen = target === null ? undefined : effectOf(target)
  const direction = chosen === undefined ? null : directionOf(chosen.effect)
  const outline = target?.kind === 'outline' ? (job.outlines.find(one => one.id === target.id) ?? null) : null
  return (
    <DrawOver
      look={look}
      tool={drawing}
      outline={outline !== null && boundsOf(outline) !== null ? outline : null}
      arrow={arrow()}
      onDrawn={ring =>
        store.set(now => (now.view.marking === null ? addOutline(now, [ring]) : markDrawn(now, ring)))
      }
      onCancel={() => store.set(stopDrawing)}
      onOutline={next => store.set(now => decide(now, putOutline(next), 'outline'))}
      onArrow={deg => {
        if (chosen === undefined || direction === null) return
        const turn = deg > direction.max ? deg - 360 : deg < direction.min ? deg + 360 : deg
        const parameters = {
          ...chosen.effect.parameters,
          [direction.key]: within(turn, direction.min, direction.max),
        }
        store.set(now =>
          decide(now, setEffect(chosen.target, { ...chosen.effect, parameters }), direction.key),
        )
      }}
      onSettle={() => store.set(settle)}
    />
  )

  /** The effect that was chosen for a target; without one, what the rules took for its layer. */
  function effectOf(of: EffectTarget): Job['effects'][number] | undefined {
    const own = job.effects.find(one => sameTarget(one.target, of))
    const found = state.session.built?.map.areas.find(area => of.kind === 'layer' && area.layerId === of.id)
    const byRule = state.session.built?.findings.some(
      ({ code, where }) => code === 'effect-by-rule' && where === `layer "${found?.name}"`,
    )
    if (own !== undefined || found === undefined || byRule !== true) return own
    return { target: of, effect: { kind: found.effect, parameters: {} } }
  }

  function arrow(): Arrow | null {
    const { art } = state.session
    if (chosen === undefined || direction === null || art === null) return null
    const place = placeOf(job, art, chosen.target)
    // Of a layer that reaches beyond the panel, the part on it.
    const center = (at: number, size: number) => within(at, 0.1 * size, 0.9 * size)
    const smaller = Math.min(job.panel.widthMm, job.panel.heightMm)
    const whole = (deg: number) => Math.round(around(deg)) % 360
    return {
      centerXMm: center(place.centerXMm, job.panel.widthMm),
      centerYMm: center(place.centerYMm, job.panel.heightMm),
      lengthMm: within(0.6 * Math.min(place.widthMm, place.heightMm), 0.08 * smaller, 0.4 * smaller),
      deg: direction.deg,
      label: `${whole(direction.deg)}° carton, ${whole(directionOnSheet(direction.deg, job.nestTurnDeg))}° sheet`,
    }
  }
}
