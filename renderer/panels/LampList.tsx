import { useEffect, useRef } from 'react'
import type { Rig } from '../../core/job/rigs.ts'
import { type Lamp, mostLamps } from '../../core/reference/scene.ts'
import { Pick } from './Choice.tsx'
import { LampOutline } from './LampForm.tsx'
import { lightOfLamp } from './lampWords.ts'
import { shown } from './NumberField.tsx'

interface Props {
  readonly lamps: readonly Lamp[]
  readonly chosen: number
  readonly rigs: readonly Rig[]
  /** Index of the rig that the light is just now; null = the user's own. */
  readonly rig: number | null
  readonly onChoose: (index: number) => void
  readonly onAdd: () => void
  readonly onRig: (rig: Rig) => void
}

/** All lamps on the table: one is set at a time, a whole rig can be put up at once. */
export function LampList({ lamps, chosen, rigs, rig, onChoose, onAdd, onRig }: Props) {
  const list = useRef<HTMLUListElement>(null)
  // Of six lamps the list shows three or four.
  useEffect(() => {
    list.current?.children[chosen]?.scrollIntoView({ block: 'nearest' })
  }, [chosen])
  return (
    <section className="lamps" aria-label="Lamps">
      <div className="lamps-top">
        <Pick
          label="Light as in"
          hideLabel
          value={rig === null ? '' : String(rig)}
          options={[
            { value: '', title: 'Lamps set by hand' },
            ...rigs.map((one, i) => ({ value: String(i), title: one.name })),
          ]}
          onChange={value => {
            const wanted = value === '' ? undefined : rigs[Number(value)]
            if (wanted !== undefined) onRig(wanted)
          }}
        />
        <button
          type="button"
          className="plain small"
          onClick={onAdd}
          disabled={lamps.length >= mostLamps}
          title={
            lamps.length >= mostLamps
              ? `${mostLamps} lamps are the most: one broad lamp can stand for several side by side`
              : 'One more lamp on the table'
          }
        >
          Add lamp
        </button>
      </div>
      <ul ref={list}>
        {lamps.map((lamp, i) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: a lamp is its place in the list
          <li key={i}>
            <button
              type="button"
              className="lamp-row"
              aria-pressed={i === chosen}
              onClick={() => onChoose(i)}
            >
              <LampOutline lamp={lamp} />
              <span className="lamp-name">{lamp.name}</span>
              <span className="lamp-light quiet">{lightOfLamp(lamp)}</span>
              <span className="lamp-lux">{lamp.lux === 0 ? 'off' : `${shown(lamp.lux, 0)} lx`}</span>
            </button>
          </li>
        ))}
      </ul>
      {rig === null ? null : (
        <p className="quiet" title={`${rigs[rig]?.says}. ${rigs[rig]?.source}`}>
          {rigs[rig]?.says}
        </p>
      )}
    </section>
  )
}
