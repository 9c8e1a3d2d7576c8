import type { Job } from '../../core/job/job.ts'
import { addPin, pinAt } from '../../core/job/pins.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { SpotNote } from '../panels/SpotNote.tsx'
import { type Drawn, useReading } from '../scene/derived.ts'
import type { Workshop } from '../scene/workshop.ts'
import { besideReading, type Laid } from '../state/laid.ts'
import { inView, type Spot, type State } from '../state/state.ts'
import { decide } from '../state/steps.ts'
import type { Store } from '../state/store.ts'
import { ProbePart } from './ProbePart.tsx'

interface Props {
  readonly store: Store<State>
  readonly job: Job
  readonly workshop: Workshop
  readonly drawn: Drawn | null
  /** The picture that is pointed at. */
  readonly scene: Scene
  readonly spot: Spot
  readonly map: MaterialMap | null
  /** Looked at closer. */
  readonly closer: boolean
  readonly onCloser: (closer: boolean) => void
  /** Where two pictures lie beside each other: how the one pointed at is laid, and the other. */
  readonly beside: { readonly here: Laid; readonly there: Laid; readonly scene: Scene } | null
}

/** The spot that is read joined to the state. */
export function SpotPart({ store, job, workshop, drawn, scene, spot, map, beside, ...look }: Props) {
  const reading = useReading(workshop, drawn, scene, spot)
  const other = useReading(workshop, drawn, beside?.scene ?? scene, beside === null ? null : spot)
  return (
    <SpotNote
      xMm={spot.xMm}
      yMm={spot.yMm}
      widthMm={job.panel.widthMm}
      heightMm={job.panel.heightMm}
      pinned={spot.pinned}
      reading={reading}
      beside={
        beside === null
          ? null
          : {
              here: beside.here.caption,
              there: beside.there.title,
              atLeft: beside.here.laid === 'film',
              found: besideReading(reading, other),
            }
      }
      onMove={(xMm, yMm) => store.set(now => inView(now, { spot: { xMm, yMm, pinned: true } }))}
      onClose={() => store.set(now => inView(now, { spot: null }))}
      kept={pinAt(job.pins, spot.xMm, spot.yMm) !== null}
      onKeep={() => store.set(now => decide(now, addPin(spot.xMm, spot.yMm)))}
      {...look}
    >
      <ProbePart
        store={store}
        job={job}
        workshop={workshop}
        drawn={drawn}
        scene={scene}
        spot={spot}
        map={map}
      />
    </SpotNote>
  )
}
