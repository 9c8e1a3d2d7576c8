import { newBoard } from '../../../core/job/usual.ts'
import type { BoardSpec } from '../../../core/reference/scene.ts'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly board: BoardSpec
  readonly usualIndex: number
  readonly onBoard: (board: Partial<BoardSpec>) => void
  readonly onSettle: () => void
}

type Key = Exclude<keyof typeof fields, 'cell'>

const fields = {
  wavinessMrad: { label: 'Waviness, rms', unit: 'mrad', min: 0, max: 50, step: 0.5, digits: 1 },
  glossRoughness: { label: 'Gloss slope, rms', unit: '', min: 0.005, max: 0.5, step: 0.005, digits: 3 },
  coatIndex: { label: 'Index on the metal', unit: '', min: 1.3, max: 2, step: 0.01, digits: 2 },
  caliperMm: { label: 'Caliper', unit: 'mm', min: 0.05, max: 10, step: 0.05, digits: 2 },
  microRoughnessNm: { label: 'Metal roughness, rms', unit: 'nm', min: 0, max: 60, step: 1, digits: 1 },
  hazeSpread: { label: 'Its haze, spread', unit: '', min: 0.01, max: 1, step: 0.01, digits: 2 },
  varnishRoughness: { label: 'Varnish slope, rms', unit: '', min: 0.001, max: 1, step: 0.01, digits: 3 },
  varnishScatterMrad: { label: 'Varnish scatter', unit: 'mrad', min: 0, max: 500, step: 5, digits: 0 },
} as const

/** What of a board can be measured, number by number. */
export function BoardNumbers({ board, usualIndex, onBoard, onSettle }: Props) {
  return (
    <>
      <div className="fields two">
        {(['wavinessMrad', 'glossRoughness', 'coatIndex', 'caliperMm'] as const).map(field)}
        {([0, 1] as const).map(i => (
          <NumberField
            key={i}
            label={i === 0 ? 'Grating cell, along' : 'Grating cell, across'}
            unit="µm"
            value={board.cellUm[i]}
            min={5}
            max={2000}
            step={5}
            assumed={board.cellUm[i] === newBoard.cellUm[i]}
            onChange={value =>
              onBoard({ cellUm: i === 0 ? [value, board.cellUm[1]] : [board.cellUm[0], value] })
            }
            onSettle={onSettle}
          />
        ))}
        {(['microRoughnessNm', 'hazeSpread', 'varnishRoughness', 'varnishScatterMrad'] as const).map(field)}
      </div>
      <p className="quiet">
        Until the board is measured these are assumptions. Waviness and cells set how far each colour spreads;
        the caliper counts when the carton is folded.
      </p>
    </>
  )

  function field(key: Key) {
    const { label, unit, min, max, step, digits } = fields[key]
    const usual = key === 'coatIndex' ? usualIndex : newBoard[key]
    return (
      <NumberField
        key={key}
        label={label}
        {...(unit === '' ? {} : { unit })}
        value={board[key]}
        min={min}
        max={max}
        step={step}
        digits={digits}
        assumed={board[key] === usual}
        onChange={value => onBoard({ [key]: value })}
        onSettle={onSettle}
      />
    )
  }
}
