import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from 'react'
import type { Job } from '../../core/job/job.ts'
import { chooseVariant, designs } from '../../core/job/variants.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { OverLegend } from '../panels/OverLegend.tsx'
import { useDrawn } from '../scene/derived.ts'
import { PanelView } from '../scene/PanelView.tsx'
import { Table } from '../scene/Table.tsx'
import type { Workshop } from '../scene/workshop.ts'
import { chosenLamp, holdPanel, moveLamp, putStraight, soundLight, zoomTo } from '../state/actions.ts'
import { sameParts } from '../state/build.ts'
import { sceneOf } from '../state/look.ts'
import type { Desk } from '../state/open.ts'
import { useMotions } from '../state/register.ts'
import type { State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import { report, withProgress } from '../state/work.ts'

interface Props {
  readonly desk: Desk
  readonly state: State
  readonly job: Job
  readonly workshop: Workshop
  readonly onKey: (event: KeyboardEvent) => boolean
}

/**
 * Every design of the job under one light, held and looked at together. Each has a part of the table, so that all of
 * them together have as many pixels to draw as one alone.
 */
export function ComparePart({ desk, state, job, workshop, onKey }: Props) {
  const all = useMemo(() => designs(job), [job])
  const maps = useMaps(desk, state, all)
  return (
    <main
      className={`place compare of-${all.length}${job.panel.widthMm < uprightBelow * job.panel.heightMm ? ' upright' : ''}`}
      aria-label="Designs side by side"
    >
      {all.map(({ name, job: design }, i) => (
        <Design
          key={i === 0 ? 'base' : name}
          name={name}
          shown={job.variant === (i === 0 ? null : i - 1)}
          design={design}
          levels={maps[i] ?? null}
          desk={desk}
          state={state}
          workshop={workshop}
          onKey={onKey}
          onChoose={() => desk.store.set(now => decide(now, chooseVariant(i === 0 ? null : i - 1)))}
        />
      ))}
      {state.view.marks ? <OverLegend /> : null}
    </main>
  )
}

/** Width over height below which four panels in a row are drawn larger than two by two, on a table of 16 : 9. */
const uprightBelow = 0.88

interface DesignProps extends Omit<Props, 'job'> {
  readonly name: string
  readonly shown: boolean
  readonly design: Job
  readonly levels: readonly MaterialMap[] | null
  readonly onChoose: () => void
}

function Design({ name, shown, design, levels, desk, state, workshop, onKey, onChoose }: DesignProps) {
  const { store } = desk
  const { view } = state
  const scene = useMemo(() => sceneOf(design, view.run), [design, view.run])
  const map = levels?.[0] ?? null
  const drawn = useDrawn(workshop, scene, levels, useMotions(design), error => report(store, error))
  return (
    <section className={shown ? 'design shown' : 'design'} aria-label={name}>
      <Table
        scene={scene}
        panel={map ?? design.panel}
        zoom={view.zoom}
        spot={null}
        picture={
          drawn === null ? null : (
            <PanelView drawn={drawn} scene={scene} zoom={view.zoom} marks={view.marks} />
          )
        }
        onPose={pose => store.set(now => holdPanel(now, pose))}
        lamp={chosenLamp(state)}
        onLamp={(index, pose) => store.set(now => soundLight(now, moveLamp(now, index, pose)))}
        onSettle={() => store.set(settle)}
        onSpot={() => undefined}
        onZoom={zoom => store.set(now => zoomTo(now, zoom))}
        onReset={() => store.set(putStraight)}
        onKey={onKey}
      />
      <button type="button" className="plain small caption" aria-pressed={shown} onClick={onChoose}>
        {name}
        {map === null ? <span className="quiet"> being built</span> : null}
      </button>
    </section>
  )
}

interface Kept {
  readonly fileId: string
  readonly job: Job
  readonly levels: readonly MaterialMap[]
}

/** The map of each design, one after another; one that would come out the same is kept. */
function useMaps(
  { store, host }: Desk,
  state: State,
  all: ReturnType<typeof designs>,
): readonly (readonly MaterialMap[] | null)[] {
  const kept = useRef<(Kept | null)[]>([])
  const [, setMade] = useState(0)
  const fileId = state.session.art?.file.id ?? ''
  // biome-ignore lint/correctness/useExhaustiveDependencies: store and host are the same for ever
  useEffect(() => {
    let wanted = true
    let running: string | null = null
    void make().catch(error => wanted && report(store, error))
    return () => {
      wanted = false
      if (running !== null) void host('cancel', { taskId: running }).catch(() => null)
    }

    async function make(): Promise<void> {
      for (const [i, { name, job }] of all.entries()) {
        const old = kept.current[i] ?? null
        if (old !== null && old.fileId === fileId && sameParts(old.job, job)) continue
        const alike =
          onTable(job) ?? kept.current.find(one => one?.fileId === fileId && sameParts(one.job, job))
        if (alike) {
          kept.current[i] = alike
          setMade(n => n + 1)
          continue
        }
        const built = await withProgress(store, host, `Building ${name}`, false, taskId => {
          running = taskId
          return host('buildMap', { fileId, taskId, job: { ...job } })
        })
        running = null
        if (!wanted || built?.shown.kind !== 'whole') return
        kept.current[i] = { fileId, job, levels: built.shown.levels }
        setMade(n => n + 1)
      }
    }
  }, [fileId, all])
  /** The map of the table that was left for this view, where it is that of the design. */
  function onTable(job: Job): Kept | null {
    const { job: shown, session } = store.get()
    if (shown === null || session.stale || session.built === null || !sameParts(shown, job)) return null
    return { fileId, job, levels: session.built.levels }
  }

  return all.map((_, i) => kept.current[i]?.levels ?? null)
}
