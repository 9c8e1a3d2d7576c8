import type { Job, LampPose } from '../../core/job/job.ts'
import { mayRemove } from '../../core/job/lamps.ts'
import type { Rig } from '../../core/job/rigs.ts'
import type { Lamp } from '../../core/reference/scene.ts'
import { LampFields } from './LampFields.tsx'
import { LampList } from './LampList.tsx'
import { LampPad } from './LampPad.tsx'
import { PictureFields } from './PictureFields.tsx'

interface Props {
  readonly job: Job
  /** As they stand now; in a light run the first is not where the job has it. */
  readonly lamps: readonly Lamp[]
  readonly chosen: number
  readonly marks: boolean
  readonly rigs: readonly Rig[]
  readonly rig: number | null
  readonly onChoose: (index: number) => void
  readonly onMove: (index: number, pose: LampPose) => void
  readonly onLamp: (change: Partial<Lamp>, gesture: string | null) => void
  readonly onAdd: () => void
  readonly onRemove: () => void
  readonly onRig: (rig: Rig) => void
  readonly onRoom: (roomLevel: number) => void
  readonly onExpose: (stops: number) => void
  readonly onView: (view: Partial<Job['view']>, gesture: string | null) => void
  readonly onMarks: (marks: boolean) => void
  readonly onSettle: () => void
  readonly onBad: (message: string) => void
}

/** The lamps, the room around them, and the picture that the eye gets. */
export function LightStrip(props: Props) {
  const { job, lamps, chosen } = props
  const lamp = lamps[chosen] ?? job.light.lamps[0]
  return (
    <>
      <LampPad
        lamps={lamps}
        chosen={chosen}
        panelShape={job.panel.widthMm / job.panel.heightMm}
        onMove={props.onMove}
        onSettle={props.onSettle}
      />
      <LampList
        lamps={lamps}
        chosen={chosen}
        rigs={props.rigs}
        rig={props.rig}
        onChoose={props.onChoose}
        onAdd={props.onAdd}
        onRig={props.onRig}
      />
      <LampFields
        key={chosen}
        lamp={lamp}
        mayRemove={mayRemove(job.light.lamps, chosen)}
        onChange={props.onLamp}
        onRemove={props.onRemove}
        onSettle={props.onSettle}
        onBad={props.onBad}
      />
      <PictureFields
        light={job.light}
        view={job.view}
        marks={props.marks}
        lux={job.light.lamps.reduce((sum, one) => sum + one.lux, 0)}
        onRoom={props.onRoom}
        onExpose={props.onExpose}
        onView={props.onView}
        onMarks={props.onMarks}
        onSettle={props.onSettle}
      />
    </>
  )
}
