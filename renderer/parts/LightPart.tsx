import { putPath, removePath, setLight, setView } from '../../core/job/edit.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { addLamp, removeLamp, setLamp } from '../../core/job/lamps.ts'
import type { Standpoint } from '../../core/job/path.ts'
import { pathPresets } from '../../core/job/paths.ts'
import { applyRig, rigOf, rigs } from '../../core/job/rigs.ts'
import { setKey, withStop } from '../../core/job/track.ts'
import type { Lamp } from '../../core/reference/scene.ts'
import { LightStrip } from '../panels/LightStrip.tsx'
import { RunStrip } from '../panels/RunStrip.tsx'
import { useFlashes } from '../scene/flashing.ts'
import type { Workshop } from '../scene/workshop.ts'
import { chosenLamp, moveLamp, soundLight } from '../state/actions.ts'
import { sceneOf } from '../state/look.ts'
import { inSession, inView, type RunView, runStart, type State } from '../state/state.ts'
import { decide, look, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'

interface Props {
  readonly store: Store<State>
  readonly state: State
  readonly job: Job
  readonly workshop: Workshop
}

/** The light strip and the light run joined to the state. */
export function LightPart({ store, state, job, workshop }: Props) {
  const { run, stillMotion } = state.view
  const scene = sceneOf(job, run)
  const path = job.paths[run.path]
  const chosen = chosenLamp(state)
  const map = state.session.built?.map ?? null
  const flashes = useFlashes(workshop, map, job, path, run.playing)
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
              run: { ...now.view.run, timeS: null, stood: null, playing: false },
            }),
          )
        }
        onRoom={roomLevel => store.set(now => decide(now, setLight({ roomLevel }), 'room'))}
        onExpose={exposureStops => store.set(now => look(now, { exposureStops }))}
        onView={(view, gesture) => store.set(now => decide(now, setView(view), gesture))}
        onMarks={marks => store.set(now => inView(now, { marks }))}
        onSettle={() => store.set(settle)}
        onBad={text => store.set(now => inSession(now, { message: { tone: 'error', text } }))}
      />
      <RunStrip
        paths={job.paths}
        run={run}
        still={stillMotion}
        presets={pathPresets}
        lamps={job.light.lamps.map(one => one.name)}
        usual={{ lamps: job.light.lamps.map(one => one.pose), eyeDistanceMm: job.view.eyeDistanceMm }}
        flashes={flashes.verdict}
        onRun={setRun}
        onPath={setPath}
        onStop={() => {
          if (path !== undefined) setPath(withStop(path, here()), null)
        }}
        onTake={index => {
          if (path !== undefined) setPath(setKey(path, index, taken(path, index)), null)
        }}
        onNew={newRun}
        onPreset={preset => addRun(preset.path)}
        onDrop={() => {
          if (path === undefined) return
          store.set(now => decide(inView(now, { run: runStart }), removePath(path.name)))
        }}
        onMoveAnyway={() => store.set(now => inView(now, { stillMotion: false }))}
        onJudge={flashes.judge}
        onStopJudging={flashes.stop}
        onDamp={() =>
          flashes.damp((calm, passes) => {
            setPath(calm, null)
            if (!passes)
              store.set(now =>
                inSession(now, {
                  message: {
                    tone: 'note',
                    text: `“${calm.name}” is slower now and still flashes too often. Move its keys nearer to each other, or take some out.`,
                  },
                }),
              )
          })
        }
        onSettle={() => store.set(settle)}
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

  /** Lamp and panel as they stand on the table; the others are left to other keys. */
  function here(): Standpoint {
    return { lamp: scene.light.lamps[0].pose, pose: scene.view.pose, others: [], eye: null }
  }

  /** The same for a key that is there: what it says of other lamps and of the eye, it says of how they stand now. */
  function taken(of: LampPath, index: number): Standpoint {
    const { others, eye } = of.keys[index] ?? here()
    const { eyeDistanceMm, eyeAt } = scene.view
    return {
      ...here(),
      others: others.map((other, i) => (other === null ? null : (scene.light.lamps[i + 1]?.pose ?? other))),
      eye: eye && { distanceMm: eyeDistanceMm, ...(eyeAt ?? { sideDeg: 0, riseDeg: 0 }) },
    }
  }

  /** The run as it was changed; its place in the list stays, also under another name. */
  function setPath(next: LampPath, gesture: string | null): void {
    store.set(now =>
      soundLight(
        now,
        decide(
          now,
          old => ({ ...old, paths: old.paths.map((one, i) => (i === run.path ? next : one)) }),
          gesture,
        ),
      ),
    )
  }

  function newRun(): void {
    addRun(withStop({ name: 'Light run', loop: false, keys: [] }, here()))
  }

  /** One more run, under a name that is free. */
  function addRun(fresh: LampPath): void {
    const names = new Set(job.paths.map(one => one.name))
    let { name } = fresh
    for (let n = 2; names.has(name); n++) name = `${fresh.name} ${n}`
    store.set(now => {
      const added = soundLight(now, decide(now, putPath({ ...fresh, name })))
      return added.job === now.job ? added : inView(added, { run: { ...runStart, path: job.paths.length } })
    })
  }
}
