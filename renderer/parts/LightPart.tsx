import { putPath, removePath, setLight } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { LightStrip } from '../panels/LightStrip.tsx'
import { RunStrip } from '../panels/RunStrip.tsx'
import { moveLamp } from '../state/actions.ts'
import { sceneOf } from '../state/look.ts'
import { withStop } from '../state/run.ts'
import { inView, type RunView, runStart, type State } from '../state/state.ts'
import { decide, look, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'

interface Props {
  readonly store: Store<State>
  readonly state: State
  readonly job: Job
}

/** The light strip and the light run joined to the state. */
export function LightPart({ store, state, job }: Props) {
  const { run, stillMotion } = state.view
  const scene = sceneOf(job, run)
  const path = job.paths[run.path]
  const setRun = (next: Partial<RunView>) =>
    store.set(now => inView(now, { run: { ...now.view.run, ...next } }))
  return (
    <section className="light" aria-label="Light">
      <LightStrip
        job={job}
        lamp={scene.light.lamps[0].pose}
        onLamp={lamp => store.set(now => moveLamp(now, lamp))}
        onLight={(light, gesture) => store.set(now => decide(now, setLight(light), gesture))}
        onLook={view => store.set(now => look(now, view))}
        onSettle={() => store.set(settle)}
      />
      <RunStrip
        paths={job.paths}
        run={run}
        still={stillMotion}
        onRun={setRun}
        onKeep={keepStop}
        onNew={newRun}
        onRename={rename}
        onDrop={() => {
          if (path === undefined) return
          store.set(now => decide(inView(now, { run: runStart }), removePath(path.name)))
        }}
      />
    </section>
  )

  function here() {
    return { lamp: scene.light.lamps[0].pose, pose: scene.view.pose }
  }

  function keepStop(): void {
    if (path === undefined) return
    store.set(now => decide(now, putPath(withStop(path, here()))))
  }

  /** A name is how the command line finds the run; its place in the list stays. */
  function rename(name: string): void {
    store.set(now =>
      decide(now, old => ({
        ...old,
        paths: old.paths.map((one, i) => (i === run.path ? { ...one, name } : one)),
      })),
    )
  }

  function newRun(): void {
    const names = new Set(job.paths.map(one => one.name))
    let n = job.paths.length + 1
    while (names.has(`Light run ${n}`)) n++
    const fresh = withStop({ name: `Light run ${n}`, loop: false, keys: [] }, here())
    store.set(now => {
      const added = decide(now, putPath(fresh))
      return inView(added, { run: { ...runStart, path: job.paths.length } })
    })
  }
}
