import { setFold } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import type { Look } from '../scene/place.ts'
import { ShownOver } from '../scene/ShownOver.tsx'
import { zoomTo } from '../state/actions.ts'
import { goBack, stayHere } from '../state/shown.ts'
import type { ShownPlace, State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'

interface Props {
  readonly store: Store<State>
  readonly job: Job
  readonly shown: ShownPlace
  readonly look: Look
}

/** The place that is shown on the table, joined to the state. */
export function ShownPart({ store, job, shown, look }: Props) {
  const folded = look.scene.solid !== undefined && job.carton !== null && job.carton.fold.amount > 0
  return (
    <ShownOver
      look={look}
      shown={shown}
      onZoom={zoom => store.set(now => zoomTo(now, zoom))}
      onBack={() => store.set(goBack)}
      onStay={() => store.set(stayHere)}
      onFlat={folded ? () => store.set(now => settle(decide(now, setFold({ amount: 0 })))) : null}
    />
  )
}
