import type { Job, LampPose } from '../../core/job/job.ts'
import { Choice } from './Choice.tsx'
import { LampPad } from './LampPad.tsx'
import { NumberField, shown } from './NumberField.tsx'
import { Slide } from './Slide.tsx'

interface Props {
  readonly job: Job
  /** Where the lamp stands now; in a light run not where the job has it. */
  readonly lamp: LampPose
  readonly onLamp: (lamp: LampPose) => void
  readonly onLight: (light: Partial<Job['light']>, gesture: string | null) => void
  readonly onLook: (view: Partial<Job['view']>) => void
  readonly onSettle: () => void
}

const illuminants = [
  { value: 'A', title: 'A', says: 'Tungsten, 2856 K' },
  { value: 'D50', title: 'D50', says: 'The viewing booth' },
  { value: 'D65', title: 'D65', says: 'Average daylight' },
] as const

const gamuts = [
  { value: 'srgb', title: 'sRGB', says: 'An ordinary screen' },
  { value: 'display-p3', title: 'P3', says: 'A wide screen' },
] as const

/** The lamp, the room around it, and the eye. */
export function LightStrip({ job, lamp, onLamp, onLight, onLook, onSettle }: Props) {
  const { light, view } = job
  return (
    <>
      <section className="lamp" aria-label="Lamp">
        <LampPad
          lamp={lamp}
          panelShape={job.panel.widthMm / job.panel.heightMm}
          onMove={onLamp}
          onSettle={onSettle}
        />
        <div className="fields two">
          <NumberField
            label="Azimuth"
            unit="°"
            value={lamp.azimuthDeg}
            min={-180}
            max={180}
            step={1}
            onChange={azimuthDeg => onLamp({ ...lamp, azimuthDeg })}
            onSettle={onSettle}
          />
          <NumberField
            label="Elevation"
            unit="°"
            value={lamp.elevationDeg}
            min={2}
            max={90}
            step={1}
            onChange={elevationDeg => onLamp({ ...lamp, elevationDeg })}
            onSettle={onSettle}
          />
          <NumberField
            label="Distance"
            unit="mm"
            value={lamp.distanceMm}
            min={100}
            max={5000}
            step={10}
            onChange={distanceMm => onLamp({ ...lamp, distanceMm })}
            onSettle={onSettle}
          />
          <NumberField
            label="Size across"
            unit="mm"
            value={lamp.diameterMm}
            min={1}
            max={1000}
            step={1}
            onChange={diameterMm => onLamp({ ...lamp, diameterMm })}
            onSettle={onSettle}
          />
        </div>
      </section>
      <section className="room" aria-label="Room and exposure">
        <Choice
          label="Light"
          value={light.lamps[0].illuminant}
          options={illuminants}
          onChange={illuminant => {
            const [hand, ...others] = light.lamps
            onLight({ lamps: [{ ...hand, illuminant }, ...others] }, null)
          }}
        />
        <Slide
          label="Room"
          value={light.roomLevel}
          min={0}
          max={1}
          step={0.01}
          says={light.roomLevel === 0 ? 'dark' : `${shown(light.roomLevel * 100, 0)} % of paper white`}
          onChange={roomLevel => onLight({ roomLevel }, 'room')}
          onSettle={onSettle}
        />
        <Slide
          label="Exposure"
          value={view.exposureStops}
          min={-6}
          max={6}
          step={0.05}
          says={`${view.exposureStops > 0 ? '+' : ''}${shown(view.exposureStops, 2)} stops`}
          onChange={exposureStops => onLook({ exposureStops })}
        />
      </section>
      <section className="eye" aria-label="Eye and screen">
        <NumberField
          label="Eye distance"
          unit="mm"
          value={view.eyeDistanceMm}
          min={100}
          max={3000}
          step={10}
          onChange={eyeDistanceMm => onLook({ eyeDistanceMm })}
        />
        <Choice label="Screen" value={view.gamut} options={gamuts} onChange={gamut => onLook({ gamut })} />
        <label className="tick">
          <input
            type="checkbox"
            checked={view.adapt}
            onChange={event => onLook({ adapt: event.target.checked })}
          />
          Eye adapts to the lamp
        </label>
      </section>
    </>
  )
}
