import { type KeyboardEvent, lazy, Suspense, useEffect, useMemo, useState } from 'react'
import { setFold, setOverlay } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { addPin, pinAt } from '../../core/job/pins.ts'
import { isPrint } from '../../core/reference/overlay.ts'
import { OverLegend } from '../panels/OverLegend.tsx'
import { OverlayCard } from '../panels/OverlayCard.tsx'
import { Slide } from '../panels/Slide.tsx'
import { SpotNote } from '../panels/SpotNote.tsx'
import { useDrawn, useReading } from '../scene/derived.ts'
import { PanelView } from '../scene/PanelView.tsx'
import { Table } from '../scene/Table.tsx'
import type { Workshop } from '../scene/workshop.ts'
import { chosenLamp, holdPanel, moveLamp, putStraight, soundLight, zoomTo } from '../state/actions.ts'
import { buildAgain } from '../state/build.ts'
import { sceneOf } from '../state/look.ts'
import { advanced } from '../state/run.ts'
import { inView, type State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'
import { report } from '../state/work.ts'
import { ProbePart } from './ProbePart.tsx'

// Only who draws or turns an effect needs it.
const DrawPart = lazy(() => import('./DrawPart.tsx').then(({ DrawPart }) => ({ default: DrawPart })))

interface Props {
  readonly store: Store<State>
  readonly state: State
  readonly job: Job
  readonly workshop: Workshop
  readonly onKey: (event: KeyboardEvent) => boolean
}

/** A frame longer than this was a hitch, and the run does not jump over it, s. */
const longestFrameS = 0.1

/** The table joined to the state. */
export function TablePart({ store, state, job, workshop, onKey }: Props) {
  const { view, session } = state
  const scene = useMemo(() => sceneOf(job, view.run), [job, view.run])
  usePlaying(store, view.run.playing)
  const { spot } = view
  const [closer, setCloser] = useState(false)
  const [leaves, setLeaves] = useState(false)
  const map = session.built?.map ?? null
  const levels = session.built?.levels ?? null
  const drawn = useDrawn(workshop, scene, levels, error => report(store, error))
  const reading = useReading(workshop, drawn, scene, spot)
  return (
    <main className="place">
      <Table
        scene={scene}
        panel={map ?? job.panel}
        zoom={view.zoom}
        spot={spot}
        picture={
          drawn === null ? null : (
            <PanelView drawn={drawn} scene={scene} zoom={view.zoom} marks={view.marks} />
          )
        }
        onPose={pose => store.set(now => holdPanel(now, pose))}
        lamp={chosenLamp(state)}
        onLamp={(index, pose) => store.set(now => soundLight(now, moveLamp(now, index, pose)))}
        onSettle={() => store.set(settle)}
        onSpot={next => store.set(now => inView(now, { spot: next }))}
        onZoom={zoom => store.set(now => zoomTo(now, zoom))}
        onReset={() => store.set(putStraight)}
        onKey={onKey}
        over={look =>
          view.drawing === null && (view.card === null || view.card === 'board') ? null : (
            <Suspense fallback={null}>
              <DrawPart store={store} state={state} job={job} look={look} />
            </Suspense>
          )
        }
      />
      {scene.solid === undefined || job.carton === null ? null : (
        <div className="fold-slide">
          <Slide
            label="Fold"
            value={job.carton.fold.amount}
            min={0}
            max={1}
            step={0.005}
            says={foldWords(job.carton.fold.amount)}
            onChange={amount => store.set(now => decide(now, setFold({ amount }), 'fold'))}
            onSettle={() => store.set(settle)}
          />
        </div>
      )}
      <OverlayCard
        overlay={job.view.overlay}
        opened={job.carton !== null && scene.solid === undefined && !isPrint(job.view.overlay)}
        open={leaves}
        onOpen={setLeaves}
        onChange={(change, film) => store.set(now => decide(now, setOverlay(change, film), 'leaves'))}
        onSettle={() => store.set(settle)}
      />
      {view.marks ? <OverLegend /> : null}
      {session.stale && session.work === null ? (
        <p className="old">
          {map === null ? 'No picture yet.' : 'The picture is older than the job.'}
          <button type="button" className="plain small" onClick={() => store.set(buildAgain)}>
            Build it
          </button>
        </p>
      ) : null}
      {spot === null ? null : (
        <SpotNote
          xMm={spot.xMm}
          yMm={spot.yMm}
          widthMm={job.panel.widthMm}
          heightMm={job.panel.heightMm}
          pinned={spot.pinned}
          reading={reading}
          onMove={(xMm, yMm) => store.set(now => inView(now, { spot: { xMm, yMm, pinned: true } }))}
          onClose={() => store.set(now => inView(now, { spot: null }))}
          kept={pinAt(job.pins, spot.xMm, spot.yMm) !== null}
          onKeep={() => store.set(now => decide(now, addPin(spot.xMm, spot.yMm)))}
          closer={closer}
          onCloser={setCloser}
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
      )}
    </main>
  )
}

const foldWords = (amount: number): string =>
  amount === 0 ? 'flat' : amount === 1 ? 'closed' : `${Math.round(100 * amount)} %`

/** Moves the light run on with the frames of the screen. */
function usePlaying(store: Store<State>, playing: boolean): void {
  useEffect(() => {
    if (!playing) return
    let last: number | null = null
    let frame = requestAnimationFrame(function next(now) {
      const elapsed = last === null ? 0 : Math.min(longestFrameS, (now - last) / 1000)
      last = now
      store.set(state => {
        const path = state.job?.paths[state.view.run.path]
        if (path === undefined || !state.view.run.playing) return state
        return inView(state, { run: advanced(state.view.run, path, elapsed) })
      })
      frame = requestAnimationFrame(next)
    })
    return () => cancelAnimationFrame(frame)
  }, [store, playing])
}
