import type { Job } from '../../core/job/job.ts'
import { roomOf, rooms } from '../../core/job/rooms.ts'
import { Choice, Pick } from './Choice.tsx'
import { More } from './More.tsx'
import { NumberField, shown } from './NumberField.tsx'
import { Slide } from './Slide.tsx'

interface Props {
  readonly light: Job['light']
  readonly view: Job['view']
  readonly marks: boolean
  /** Illuminance of all lamps, lx. */
  readonly lux: number
  readonly onRoom: (roomLevel: number) => void
  readonly onExpose: (stops: number) => void
  /** A gesture of the same name is one step of undo. */
  readonly onView: (view: Partial<Job['view']>, gesture: string | null) => void
  readonly onMarks: (marks: boolean) => void
  readonly onSettle: () => void
}

const gamuts = [
  { value: 'srgb', title: 'sRGB', says: 'An ordinary screen' },
  { value: 'display-p3', title: 'Display-P3', says: 'A wide screen' },
] as const

const whites = [
  { value: 'D65', title: 'D65', says: 'A screen set to daylight, as most are' },
  { value: 'D50', title: 'D50', says: 'A screen set to match a viewing booth' },
] as const

const anchors = [
  { value: 'auto', title: 'The lamps', says: 'Paper white stays, however bright the lamps are' },
  { value: 'fixed', title: 'Fixed', says: 'Brighter lamps make a brighter picture' },
] as const

/** Room, exposure and screen: how the light becomes a picture. */
export function PictureFields({ light, view, marks, lux, onRoom, onMarks, onSettle, ...set }: Props) {
  const { onExpose, onView } = set
  const room = roomOf(light.roomLevel)
  return (
    <section className="picture-fields" aria-label="Room and exposure">
      <Slide
        label="Exposure"
        value={view.exposureStops}
        min={-6}
        max={6}
        step={0.05}
        says={`${view.exposureStops > 0 ? '+' : ''}${shown(view.exposureStops, 2)} stops`}
        onChange={onExpose}
      />
      <Slide
        label="Room"
        value={light.roomLevel}
        min={0}
        max={1}
        step={0.01}
        says={light.roomLevel === 0 ? 'dark' : `${shown(light.roomLevel * 100, 0)} % of paper white`}
        onChange={onRoom}
        onSettle={onSettle}
      />
      <label className="tick" title="Hatches flashes and colours that the screen cannot show (O)">
        <input type="checkbox" checked={marks} onChange={event => onMarks(event.target.checked)} />
        Mark what the screen cannot show
      </label>
      <More label="Eye and screen">
        <div className="fields two">
          <Pick
            label="Room like"
            value={String(room ?? 'own')}
            options={[
              ...rooms.map((one, i) => ({ value: String(i), title: one.name })),
              ...(room === null ? [{ value: 'own', title: 'Of your own' }] : []),
            ]}
            onChange={value => {
              const chosen = rooms[Number(value)]
              if (chosen !== undefined) onRoom(chosen.roomLevel)
              onSettle()
            }}
          />
          <p className="quiet beside">
            {room === null ? 'As bright as the slider says.' : `${rooms[room]?.says ?? ''}.`}
          </p>
          <Choice
            label="Exposed for"
            value={view.anchorLux === null ? 'auto' : 'fixed'}
            options={anchors}
            onChange={value => onView({ anchorLux: value === 'auto' ? null : lux }, null)}
          />
          {view.anchorLux === null ? (
            <p className="quiet beside">
              {shown(lux, 0)} lx of all lamps: paper white lands at 80 % of the screen.
            </p>
          ) : (
            <NumberField
              label="Paper white at"
              unit="lx"
              value={view.anchorLux}
              min={1}
              max={200_000}
              step={50}
              onChange={anchorLux => onView({ anchorLux }, 'anchor')}
              onSettle={onSettle}
            />
          )}
          <Choice
            label="Screen"
            value={view.gamut}
            options={gamuts}
            onChange={gamut => onView({ gamut }, null)}
          />
          <Choice
            label="White of the screen"
            value={view.displayWhite}
            options={whites}
            onChange={displayWhite => onView({ displayWhite }, null)}
          />
          <NumberField
            label="Eye distance"
            unit="mm"
            value={view.eyeDistanceMm}
            min={100}
            max={3000}
            step={10}
            onChange={eyeDistanceMm => onView({ eyeDistanceMm }, 'eye distance')}
            onSettle={onSettle}
          />
          <label className="tick">
            <input
              type="checkbox"
              checked={view.adapt}
              onChange={event => onView({ adapt: event.target.checked }, null)}
            />
            Eye adapts to the lamps
          </label>
        </div>
        <p className="quiet">
          {view.adapt
            ? 'White under the lamps is the white of the screen, whichever that is.'
            : 'The tint of the lamps shows against the white that the screen is set to.'}
        </p>
      </More>
    </section>
  )
}
