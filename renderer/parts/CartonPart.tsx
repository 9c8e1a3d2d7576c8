import { setArts, setFold, setForm } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { blankOf } from '../../core/job/solid.ts'
import { CartonCard } from '../panels/carton/CartonCard.tsx'
import { foldInto } from '../state/actions.ts'
import { takeDrawing } from '../state/drawing.ts'
import type { State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'

/** The carton's card joined to the state. */
export function CartonPart({ store, job }: { readonly store: Store<State>; readonly job: Job }) {
  const change = (edit: (job: Job) => Job, gesture: string | null = null) =>
    store.set(now => decide(now, edit, gesture))
  return (
    <CartonCard
      carton={job.carton}
      panel={job.panel}
      blank={blankOf(job)}
      onCarton={carton => store.set(now => foldInto(now, carton))}
      onForm={(form, gesture) => change(setForm(form), gesture)}
      onDrawing={file => void takeDrawing(store, file)}
      onFold={(fold, gesture) => change(setFold(fold), gesture)}
      onArts={arts => change(setArts(arts), 'arts')}
      onSettle={() => store.set(settle)}
    />
  )
}
