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
  wavinessMrad: {
    label: 'Waviness',
    unit: 'mrad',
    min: 0,
    max: 50,
    step: 0.5,
    digits: 1,
    says: 'How far the surface leans from flat, root mean square. It sets how sharp mirror and rainbow are.',
  },
  glossRoughness: {
    label: 'Surface slope',
    unit: '',
    min: 0.005,
    max: 0.5,
    step: 0.005,
    digits: 3,
    says: 'Root mean square slope of the top surface: 0.02 shines, 0.25 is matte.',
  },
  coatIndex: {
    label: 'Refractive index',
    unit: '',
    min: 1.3,
    max: 2,
    step: 0.01,
    digits: 2,
    says: 'Refractive index of what lies on the metal, lacquer or film. It makes the grooves optically deeper.',
  },
  caliperMm: {
    label: 'Caliper',
    unit: 'mm',
    min: 0.05,
    max: 10,
    step: 0.05,
    digits: 2,
    says: 'Thickness of the board.',
  },
  microRoughnessNm: {
    label: 'Grain of the metal',
    unit: 'nm',
    min: 0,
    max: 60,
    step: 1,
    digits: 1,
    says: 'Root mean square height of the metal’s fine grain. It takes light from mirror and rainbow into a haze.',
  },
  hazeSpread: {
    label: 'Spread of its haze',
    unit: '',
    min: 0.01,
    max: 1,
    step: 0.01,
    digits: 2,
    says: 'How wide the haze spreads: 0.15 is about 9° to either side.',
  },
  varnishRoughness: {
    label: 'Varnish slope',
    unit: '',
    min: 0.001,
    max: 1,
    step: 0.01,
    digits: 3,
    says: 'Root mean square slope of the varnish’s surface: 0.02 shines, 0.25 is matte.',
  },
  varnishScatterMrad: {
    label: 'Varnish scatter',
    unit: 'mrad',
    min: 0,
    max: 500,
    step: 5,
    digits: 0,
    says: 'How far the varnish spreads the light that goes through it.',
  },
} as const

/** What of a board can be measured, number by number. */
export function BoardNumbers({ board, usualIndex, onBoard, onSettle }: Props) {
  return (
    <div className="board-numbers">
      <div className="fields two">
        {(['wavinessMrad', 'glossRoughness', 'coatIndex', 'caliperMm'] as const).map(field)}
        {([0, 1] as const).map(i => (
          <NumberField
            key={i}
            label={i === 0 ? 'Cell, across grooves' : 'Cell, along grooves'}
            says="Size of the patches that the grooves are written in. Smaller cells blur the colours."
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
    </div>
  )

  function field(key: Key) {
    const { label, unit, min, max, step, digits, says } = fields[key]
    const usual = key === 'coatIndex' ? usualIndex : newBoard[key]
    return (
      <NumberField
        key={key}
        label={label}
        {...(unit === '' ? {} : { unit })}
        value={board[key]}
        says={says}
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
