import { setFold } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { MarksOver } from '../scene/MarksOver.tsx'
import { ShownOver } from '../scene/ShownOver.tsx'
import type { Look } from '../stage/place.ts'
import { zoomTo } from '../state/actions.ts'
import { goBack, listsMarks, stayHere } from '../state/shown.ts'
import type { State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'

interface Props {
  readonly store: Store<State>
  readonly state: State
  readonly job: Job
  readonly look: Look
}

/** What the checks speak of, over the picture, joined to the state. */
export function ShownPart({ store, state, job, look }: Props) {
  const { shown } = state.view
  const folded = look.scene.solid !== undefined && job.carton !== null && job.carton.fold.amount > 0
  return (
    <>
      <MarksOver
        look={look}
        marked={job.marked.filter(({ name }) => name !== shown?.key)}
        named={listsMarks(state)}
      />
      {shown === null ? null : (
        <ShownOver
          look={look}
          shown={shown}
          onZoom={zoom => store.set(now => zoomTo(now, zoom))}
          onBack={() => store.set(goBack)}
          onStay={() => store.set(stayHere)}
          onFlat={folded ? () => store.set(now => settle(decide(now, setFold({ amount: 0 })))) : null}
        />
      )}
    </>
  )
}
