import { type KeyboardEvent, lazy, Suspense, useEffect, useMemo, useState } from 'react'
import { setFold, setOverlay } from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { isPrint } from '../../core/reference/overlay.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { OverLegend } from '../panels/OverLegend.tsx'
import { OverlayCard } from '../panels/OverlayCard.tsx'
import { Slide } from '../panels/Slide.tsx'
import { useDrawn } from '../scene/derived.ts'
import { PanelView } from '../scene/PanelView.tsx'
import { Table } from '../scene/Table.tsx'
import type { Workshop } from '../scene/workshop.ts'
import { chosenLamp, holdPanel, moveLamp, putStraight, soundLight, zoomTo } from '../state/actions.ts'
import { buildAgain } from '../state/build.ts'
import { bothLaid } from '../state/laid.ts'
import { sceneOf } from '../state/look.ts'
import { useMotions } from '../state/register.ts'
import { advanced } from '../state/run.ts'
import { showsPlaces } from '../state/shown.ts'
import { inView, notePlaced, type State, showsNotes } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'
import { report } from '../state/work.ts'
import { SpotPart } from './SpotPart.tsx'

// Only who draws or turns an effect needs it.
const DrawPart = lazy(() => import('./DrawPart.tsx').then(({ DrawPart }) => ({ default: DrawPart })))
// Only who asks for the place of a finding needs it.
const ShownPart = lazy(() => import('./ShownPart.tsx').then(({ ShownPart }) => ({ default: ShownPart })))

// Only who moves plates needs it.
const SliverPart = lazy(() => import('./SliverPart.tsx').then(({ SliverPart }) => ({ default: SliverPart })))

// Only who looks at notes needs them.
const NotesPart = lazy(() => import('./NotesPart.tsx').then(({ NotesPart }) => ({ default: NotesPart })))

interface Props {
  readonly store: Store<State>
  readonly state: State
  readonly job: Job
  readonly workshop: Workshop
  readonly onKey: (event: KeyboardEvent) => boolean
}

/** A frame longer than this was a hitch, and the run does not jump over it, s. */
const longestFrameS = 0.1

/** The table joined to the state; or two of them, with the same leaves laid down both ways. */
export function TablePart({ store, state, job, workshop, onKey }: Props) {
  const { view, session } = state
  const beside = useMemo(() => (view.compare === 'laid' ? bothLaid(job) : null), [view.compare, job])
  const scenes = useMemo(
    () => (beside ?? [{ job }]).map(one => sceneOf(one.job, view.run)),
    [beside, job, view.run],
  )
  usePlaying(store, view.run.playing)
  const { spot } = view
  const [closer, setCloser] = useState(false)
  const [leaves, setLeaves] = useState(false)
  /** Which of two pictures is read. */
  const [pointed, setPointed] = useState<0 | 1>(0)
  const at = beside === null ? 0 : pointed
  const scene = scenes[at] ?? scenes[0]!
  const map = session.built?.map ?? null
  const levels = session.built?.levels ?? null
  // Tables are of board, inks and lamps: both pictures have the same.
  const drawn = useDrawn(workshop, scene, levels, useMotions(job), error => report(store, error))
  // A picture that still has the map before keeps what it shows over it.
  const look = drawn !== null && drawn.levels === levels ? (session.built?.look ?? null) : undefined
  const tableOf = (shown: Scene, index: 0 | 1) => (
    <Table
      scene={shown}
      panel={map ?? job.panel}
      zoom={view.zoom}
      spot={spot}
      picture={
        drawn === null ? null : (
          <PanelView drawn={drawn} look={look} scene={shown} zoom={view.zoom} marks={view.marks} />
        )
      }
      onPose={pose => store.set(now => holdPanel(now, pose))}
      lamp={chosenLamp(state)}
      onLamp={(lamp, pose) => store.set(now => soundLight(now, moveLamp(now, lamp, pose)))}
      onSettle={() => store.set(settle)}
      onSpot={next => {
        // A press that is to draw does not read, even before drawing has loaded.
        if (view.drawing !== null) return
        if (view.proofs.placing === 'asked') {
          if (next?.pinned) store.set(now => notePlaced(now, next))
          return
        }
        setPointed(index)
        store.set(now => inView(now, { spot: next }))
      }}
      onZoom={zoom => store.set(now => zoomTo(now, zoom))}
      onReset={() => store.set(putStraight)}
      onKey={onKey}
      over={drawnOn =>
        // Areas are drawn, and places shown, on the print.
        index > 0 ? null : (
          <Suspense fallback={null}>
            {view.drawing === null && (view.card === null || view.card === 'board') ? null : (
              <DrawPart store={store} state={state} job={job} look={drawnOn} />
            )}
            {view.sheet === 'checks' && view.checks.section === 'register' ? (
              <SliverPart store={store} job={job} look={drawnOn} />
            ) : null}
            {showsNotes(view) ? <NotesPart store={store} state={state} look={drawnOn} /> : null}
            {showsPlaces(state) ? <ShownPart store={store} state={state} job={job} look={drawnOn} /> : null}
          </Suspense>
        )
      }
    />
  )
  return (
    <main className={beside === null ? 'place' : 'place compare of-2'}>
      {beside === null
        ? tableOf(scene, 0)
        : beside.map(({ laid, caption }, i) => (
            <section key={laid} className="design" aria-label={caption}>
              {tableOf(scenes[i] ?? scene, i === 0 ? 0 : 1)}
              <p className="caption">{caption}</p>
            </section>
          ))}
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
        opened={job.carton !== null && (beside !== null || !isPrint(job.view.overlay))}
        beside={beside !== null}
        onBeside={on => {
          // The pictures have the place; the button stays where it was.
          if (on) setLeaves(false)
          store.set(now => inView(now, { compare: on ? 'laid' : null }))
        }}
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
      {spot === null || view.drawing !== null ? null : (
        <SpotPart
          store={store}
          job={job}
          workshop={workshop}
          drawn={drawn}
          scene={scene}
          spot={spot}
          map={map}
          closer={closer}
          onCloser={setCloser}
          beside={
            beside === null
              ? null
              : { here: beside[at], there: beside[at === 0 ? 1 : 0], scene: scenes[1 - at] ?? scene }
          }
        />
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
