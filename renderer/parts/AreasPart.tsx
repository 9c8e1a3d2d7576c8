import { Suspense } from 'react'
import { clearEffect, dropUnusedAssets, putOutline, removeOutline, setEffect } from '../../core/job/edit.ts'
import { effectElsewhere } from '../../core/job/variants.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { DrawButtons } from '../panels/effects/DrawButtons.tsx'
import { OutlineCard } from '../panels/effects/OutlineCard.tsx'
import { type EffectDesk, effectSources } from '../state/effectSources.ts'
import { addInMiddle, firstEffect, importOutline } from '../state/outlines.ts'
import { inView, type State } from '../state/state.ts'
import { settle } from '../state/steps.ts'
import { late } from './late.tsx'

// As in the stack: it comes with the first card that is opened.
const EffectCard = late(async () => (await import('../panels/EffectCard.tsx')).EffectCard)

interface Props extends EffectDesk {
  readonly state: State
}

/** Areas that were drawn on the panel, joined to the state. */
export function AreasPart({ state, ...given }: Props) {
  const { desk, job, change } = given
  const { store } = desk
  const { card, drawing } = state.view
  const map = state.session.built?.map ?? null
  const settled = () => store.set(settle)
  const name = state.session.jobFile?.name ?? job.art?.path ?? 'Carton'
  return (
    <section className="coat areas" aria-label="Drawn areas">
      <h2 title="Areas of holography that were drawn here or taken from a drawing; they take the place of what the art has there.">
        Drawn areas
      </h2>
      {job.outlines.map(outline => {
        const target = { kind: 'outline', id: outline.id } as const
        const open = card !== null && card !== 'board' && card.kind === 'outline' && card.id === outline.id
        const own = job.effects.find(one => one.target.kind === 'outline' && one.target.id === outline.id)
        return (
          <OutlineCard
            key={outline.id}
            outline={outline}
            open={open}
            onOpen={() => store.set(now => inView(now, { card: open ? null : target, drawing: null }))}
            onChange={(next, gesture) => change(putOutline(next), gesture)}
            onRemove={() => change(now => dropUnusedAssets(removeOutline(outline.id)(now)))}
            onSettle={settled}
            designs={job.variants.length + 1}
            here={own !== undefined}
            onHere={here =>
              change(
                here ? setEffect(target, effectElsewhere(job, target) ?? firstEffect) : clearEffect(target),
              )
            }
          >
            {own === undefined ? null : (
              <Suspense fallback={null}>
                <EffectCard
                  effect={own.effect}
                  reason={null}
                  sources={effectSources(given, target, outline.name, own.effect)}
                  onChange={(next, gesture) =>
                    change(now => dropUnusedAssets(setEffect(target, next)(now)), gesture)
                  }
                  onRule={null}
                  onSettle={settled}
                />
              </Suspense>
            )}
          </OutlineCard>
        )
      })}
      <DrawButtons
        tool={drawing}
        onTool={tool => store.set(now => inView(now, { drawing: tool, marking: null, spot: null }))}
        onMiddle={() => store.set(now => addInMiddle(now, 'rectangle'))}
        onImport={() => void importOutline(desk)}
        onMap={map === null ? null : () => void savePicture(map, name)}
      />
    </section>
  )
}

/** Hands the picture over as a download. */
async function savePicture(map: MaterialMap, name: string): Promise<void> {
  const { areaPicture } = await import('../../core/export/area-picture.ts')
  const svg = areaPicture(map, name)
  const link = document.createElement('a')
  link.download = `${name.replace(/\.[^.]*$/, '').replace(/^.*\//, '')} areas.svg`
  link.href = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }))
  link.click()
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000)
}
