import type { Blank, Hinge } from '../../../core/carton/blank.ts'
import { degreesAt } from '../../../core/carton/fold.ts'
import type { JobCarton } from '../../../core/job/carton.ts'
import { shown } from '../NumberField.tsx'
import { Slide } from '../Slide.tsx'

interface Props {
  readonly blank: Blank
  readonly fold: JobCarton['fold']
  readonly onFold: (fold: Partial<JobCarton['fold']>, gesture: string) => void
  readonly onSettle: () => void
}

/** Every crease on its own: moved, it no longer goes with the fold slider. */
export function HingeSlides({ blank, fold, onFold, onSettle }: Props) {
  const apart = Object.keys(fold.own).length > 0
  return (
    <div className="hinges">
      {blank.hinges.map(hinge => {
        const set = fold.own[hinge.name]
        const degrees = set ?? degreesAt(hinge, fold.amount)
        return (
          <Slide
            key={hinge.name}
            label={hinge.child}
            value={degrees}
            min={Math.min(-90, ...stands(hinge))}
            max={Math.max(180, ...stands(hinge))}
            step={1}
            says={`${shown(degrees, 0)}°${set === undefined ? '' : ', apart'}`}
            onChange={value => onFold({ own: { ...fold.own, [hinge.name]: value } }, `hinge ${hinge.name}`)}
            onSettle={onSettle}
          />
        )
      })}
      <p className="actions">
        <button
          type="button"
          className="plain small"
          disabled={!apart}
          onClick={() => onFold({ own: {} }, 'hinges')}
        >
          All follow the slider again
        </button>
      </p>
    </div>
  )
}

/** Degrees at which the fold slider may leave a hinge. */
const stands = ({ closedDeg, via = [] }: Hinge): readonly number[] => [
  closedDeg,
  ...via.map(stop => stop.deg),
]
