import { legendOf, type Stop } from '../../core/effects/coded.ts'
import { azimuthControl, pitchControl } from '../../core/effects/parameters.ts'
import { linesPerMm } from '../stage/angles.ts'
import { NumberField, shown } from './NumberField.tsx'

interface Props {
  readonly parameters: Readonly<Record<string, unknown>>
  readonly onChange: (stops: readonly Stop[] | null) => void
  readonly onSettle: () => void
}

/** What each colour or tone of the drawing stands for. Between two lines it goes straight from one to the other. */
export function LegendTable({ parameters, onChange, onSettle }: Props) {
  const { code, gives, stops } = legendOf(parameters)
  const range = gives === 'pitch' ? pitchControl : azimuthControl
  return (
    <fieldset className="legend">
      <legend>Legend</legend>
      {stops.map((stop, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a line is its place in the legend
        <div key={i} className="legend-line">
          <span className="chip" style={{ background: colorOf(code, stop.at) }} aria-hidden="true" />
          <NumberField
            label={code === 'hue' ? 'Hue' : 'Lightness'}
            unit={code === 'hue' ? '°' : '%'}
            value={code === 'hue' ? stop.at * 360 : stop.at * 100}
            min={0}
            max={code === 'hue' ? 360 : 100}
            step={code === 'hue' ? 5 : 1}
            onChange={at => put(i, { ...stop, at: code === 'hue' ? at / 360 : at / 100 })}
            onSettle={onSettle}
          />
          <NumberField
            label={gives === 'pitch' ? 'Pitch' : 'Direction'}
            unit={gives === 'pitch' ? 'nm' : '°'}
            value={stop.value}
            min={range.min}
            max={range.max}
            step={range.step}
            {...(gives === 'pitch' ? { aside: `${shown(linesPerMm(stop.value), 0)} lines/mm` } : {})}
            onChange={value => put(i, { ...stop, value })}
            onSettle={onSettle}
          />
          <button
            type="button"
            className="plain small"
            aria-label={`Remove line ${i + 1}`}
            disabled={stops.length === 1}
            onClick={() => onChange(stops.filter((_, at) => at !== i))}
          >
            Remove
          </button>
        </div>
      ))}
      <div className="legend-foot">
        <button type="button" className="plain small" disabled={stops.length >= 64} onClick={add}>
          Add a line
        </button>
        {parameters.stops === null || parameters.stops === undefined ? null : (
          <button type="button" className="plain small" onClick={() => onChange(null)}>
            Usual legend
          </button>
        )}
      </div>
    </fieldset>
  )

  function put(index: number, stop: Stop): void {
    onChange(stops.map((old, i) => (i === index ? stop : old)))
  }

  /** In the middle of the widest gap, where it changes nothing yet. */
  function add(): void {
    let best = { gap: -1, stop: { at: 0.5, value: stops[0]?.value ?? range.min } }
    for (let i = 0; i + 1 < stops.length; i++) {
      const [a, b] = [stops[i], stops[i + 1]]
      if (a === undefined || b === undefined || b.at - a.at <= best.gap) continue
      best = { gap: b.at - a.at, stop: { at: (a.at + b.at) / 2, value: (a.value + b.value) / 2 } }
    }
    const only = stops[0]
    if (stops.length === 1 && only !== undefined)
      best = { gap: 1, stop: { at: only.at < 0.5 ? 1 : 0, value: only.value } }
    onChange([...stops, best.stop].sort((a, b) => a.at - b.at))
  }
}

const colorOf = (code: 'hue' | 'tone', at: number): string =>
  code === 'hue' ? `hsl(${at * 360} 90% 50%)` : `rgb(${at * 255} ${at * 255} ${at * 255})`
