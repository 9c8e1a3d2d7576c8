import { apartColor, type DifferenceNumbers, differenceSteps } from '../../../core/export/light-difference.ts'
import type { Picture } from '../../../core/host/picture.ts'
import { PictureCanvas } from './PictureCanvas.tsx'

interface Props {
  readonly picture: Picture
  readonly numbers: DifferenceNumbers
}

/** Where and how far two pictures differ: a map, what its colours mean, and the numbers. */
export function DifferenceView({ picture, numbers }: Props) {
  const percent = (part: number): string => `${(100 * part).toFixed(1)} %`
  return (
    <>
      <PictureCanvas
        picture={picture}
        label="Colour difference of every place; the list says which colour is how much"
      />
      <ul className="difference-key" aria-label="Colour difference, ΔE00">
        {differenceSteps.map(({ from, color }, i) => (
          <li key={from}>
            <span className="chip" style={{ background: `rgb(${color.join(' ')})` }} />
            {from === 0 ? `below ${differenceSteps[i + 1]?.from ?? 1}` : `from ${from}`}
          </li>
        ))}
        <li>
          <span className="chip" style={{ background: `rgb(${apartColor.join(' ')})` }} />
          only one shows it
        </li>
      </ul>
      <p>
        ΔE00 {numbers.mean.toFixed(1)} on average, {numbers.max.toFixed(1)} at most. Above 2:{' '}
        {percent(numbers.above2)} of the carton; above 5: {percent(numbers.above5)}.
      </p>
      {numbers.beyondWhite === 0 ? null : (
        <p className="quiet">
          {percent(numbers.beyondWhite)} is brighter than paper white, for which ΔE00 was not made.
        </p>
      )}
    </>
  )
}
