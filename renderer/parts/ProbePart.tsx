import { useState } from 'react'
import type { Job } from '../../core/job/job.ts'
import { pinAt, removePin, renamePin } from '../../core/job/pins.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { PanelPose, Scene } from '../../core/reference/scene.ts'
import type { PolarKind, SweepAxis } from '../../core/reference/sweep-poses.ts'
import { ExtremeRows } from '../panels/probe/ExtremeRows.tsx'
import { Loupe } from '../panels/probe/Loupe.tsx'
import { PinList } from '../panels/probe/PinList.tsx'
import { PolarMap } from '../panels/probe/PolarMap.tsx'
import { SweepPlot } from '../panels/probe/SweepPlot.tsx'
import type { Drawn } from '../scene/derived.ts'
import { useCurve, useExtremes, useLoupe, usePolar } from '../scene/probing.ts'
import type { Workshop } from '../scene/workshop.ts'
import { within } from '../stage/angles.ts'
import { holdPanel } from '../state/actions.ts'
import { inView, type Spot, type State } from '../state/state.ts'
import { decide } from '../state/steps.ts'
import type { Store } from '../state/store.ts'

interface Props {
  readonly store: Store<State>
  readonly job: Job
  readonly workshop: Workshop
  readonly drawn: Drawn | null
  readonly scene: Scene
  readonly spot: Spot
  readonly map: MaterialMap | null
}

/** The closer look at a spot joined to the state. */
export function ProbePart({ store, job, workshop, drawn, scene, spot, map }: Props) {
  const [axis, setAxis] = useState<SweepAxis>('forward')
  const [kind, setKind] = useState<PolarKind>('lean')
  const [radiusMm, setRadius] = useState(0)
  const curve = useCurve(workshop, drawn, scene, spot, axis)
  const polar = usePolar(workshop, drawn, scene, spot, kind, radiusMm)
  const extremes = useExtremes(workshop, drawn, scene, spot, radiusMm)
  const loupe = useLoupe(workshop, drawn, scene, spot)
  const hold = (pose: PanelPose): void => store.set(now => holdPanel(now, pose))
  const go = (xMm: number, yMm: number): void =>
    store.set(now =>
      inView(now, {
        spot: {
          xMm: within(xMm, 0, job.panel.widthMm),
          yMm: within(yMm, 0, job.panel.heightMm),
          pinned: true,
        },
      }),
    )
  return (
    <>
      <SweepPlot axis={axis} curve={curve} pose={scene.view.pose} onAxis={setAxis} onHold={hold} />
      <ExtremeRows found={extremes} onHold={hold} />
      <PolarMap
        kind={kind}
        radiusMm={radiusMm}
        light={polar}
        pose={scene.view.pose}
        onKind={setKind}
        onRadius={setRadius}
        onHold={hold}
      />
      <Loupe
        view={loupe}
        onMove={(right, up) => {
          if (map === null) return
          go(spot.xMm + (right * map.widthMm) / map.width, spot.yMm + (up * map.heightMm) / map.height)
        }}
      />
      <PinList
        pins={job.pins}
        at={pinAt(job.pins, spot.xMm, spot.yMm)}
        onGo={pin => go(pin.xMm, pin.yMm)}
        onRename={(index, name) => store.set(now => decide(now, renamePin(index, name)))}
        onRemove={index => store.set(now => decide(now, removePin(index)))}
      />
    </>
  )
}
