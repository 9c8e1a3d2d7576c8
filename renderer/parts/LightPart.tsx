import { putPath, removePath, setLight } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { addLamp, removeLamp, setLamp } from '../../core/job/lamps.ts'
import { applyRig, rigOf, rigs } from '../../core/job/rigs.ts'
import { withStop } from '../../core/job/track.ts'
import type { Lamp } from '../../core/reference/scene.ts'
import { LightStrip } from '../panels/LightStrip.tsx'
import { RunStrip } from '../panels/RunStrip.tsx'
import { chosenLamp, moveLamp, soundLight } from '../state/actions.ts'
import { sceneOf } from '../state/look.ts'
import { inSession, inView, type RunView, runStart, type State } from '../state/state.ts'
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
  const chosen = chosenLamp(state)
  const setRun = (next: Partial<RunView>) =>
    store.set(now => inView(now, { run: { ...now.view.run, ...next } }))
  return (
    <section className="light" aria-label="Light">
      <LightStrip
        job={job}
        lamps={scene.light.lamps}
        chosen={chosen}
        marks={state.view.marks}
        rigs={rigs}
        rig={rigOf(job.light)}
        onChoose={lamp => store.set(now => inView(settle(now), { lamp }))}
        onMove={(index, pose) => store.set(now => soundLight(now, moveLamp(now, index, pose)))}
        onLamp={changeLamp}
        onAdd={() =>
          store.set(now =>
            inView(decide(now, addLamp(scene.light.lamps[chosen] ?? scene.light.lamps[0])), {
              lamp: job.light.lamps.length,
            }),
          )
        }
        onRemove={() => store.set(now => inView(decide(now, removeLamp(chosen)), { lamp: 0 }))}
        onRig={rig =>
          store.set(now =>
            inView(decide(now, applyRig(rig)), {
              lamp: 0,
              run: { ...now.view.run, timeS: null, playing: false },
            }),
          )
        }
        onRoom={roomLevel => store.set(now => decide(now, setLight({ roomLevel }), 'room'))}
        onLook={view => store.set(now => look(now, view))}
        onMarks={marks => store.set(now => inView(now, { marks }))}
        onSettle={() => store.set(settle)}
        onBad={text => store.set(now => inSession(now, { message: { tone: 'error', text } }))}
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

  /** A pose goes by way of the hand, which ends a light run; everything else is the lamp's own. */
  function changeLamp({ pose, ...change }: Partial<Lamp>, gesture: string | null): void {
    store.set(now => {
      const moved = pose === undefined ? now : moveLamp(now, chosen, pose)
      if (Object.keys(change).length === 0) return soundLight(now, moved)
      const key = gesture === null ? null : `${gesture} ${chosen}`
      return soundLight(now, decide(moved, setLamp(chosen, change), key))
    })
  }

  function here() {
    return { lamp: scene.light.lamps[0].pose, pose: scene.view.pose, others: [], eye: null }
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
