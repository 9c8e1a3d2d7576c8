import { around, directionOnSheet } from '../../../core/effects/sheet-direction.ts'
import type { Job } from '../../../core/job/job.ts'
import { shown } from '../NumberField.tsx'

const turns = [0, 90, 180, 270] as const

interface Props {
  /** Direction on the carton, degrees; null where the effect has none. */
  readonly directionDeg: number
  readonly nestTurnDeg: Job['nestTurnDeg']
  readonly onNestTurn: (turn: Job['nestTurnDeg']) => void
}

/** A direction as the carton has it and as the sheet has it, which is where the master is made. */
export function NestTurn({ directionDeg, nestTurnDeg, onNestTurn }: Props) {
  return (
    <p className="note nest">
      Direction: {shown(around(directionDeg), 0)}° on the carton,{' '}
      {shown(directionOnSheet(directionDeg, nestTurnDeg), 0)}° on the sheet. Drag the arrow on the picture to
      turn it. The carton lies on the sheet turned by{' '}
      <select
        aria-label="The carton lies on the sheet turned by"
        value={nestTurnDeg}
        onChange={event => {
          const turn = turns.find(one => String(one) === event.target.value)
          if (turn !== undefined) onNestTurn(turn)
        }}
      >
        {turns.map(turn => (
          <option key={turn} value={turn}>
            {turn}°
          </option>
        ))}
      </select>
    </p>
  )
}
