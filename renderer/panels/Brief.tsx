import { useId } from 'react'
import { Slide } from './Slide.tsx'

interface Props {
  readonly brief: string
  /** Part of a panel without art that white covers, 0..1; null once there is art. */
  readonly whitePart: number | null
  readonly onBrief: (brief: string) => void
  readonly onWhite: (part: number) => void
  readonly onArt: () => void
  readonly onSettle: () => void
}

/** What is wanted, in words, and what stands in for the art while there is none. */
export function Brief({ brief, whitePart, onBrief, onWhite, onArt, onSettle }: Props) {
  const id = useId()
  return (
    <div className="brief">
      <label htmlFor={id}>What is wanted</label>
      <textarea
        id={id}
        rows={10}
        maxLength={20_000}
        value={brief}
        placeholder="For whom it is, what should flash and what must stay quiet, colours that must be right, where type and code go."
        onChange={event => onBrief(event.target.value)}
        onBlur={onSettle}
      />
      <p className="quiet">Saved in the job and printed in its report.</p>
      {whitePart === null ? null : (
        <>
          <h3>Until there is art</h3>
          <p>
            The panel is one field of holography with white from below. Choose the effect and the white in the
            stack; they go to the art’s own layers when it comes.
          </p>
          <Slide
            label="White from below"
            says={`${Math.round(whitePart * 100)} % of the height`}
            value={whitePart * 100}
            min={0}
            max={100}
            step={1}
            onChange={value => onWhite(value / 100)}
            onSettle={onSettle}
          />
          <button type="button" className="solid" onClick={onArt}>
            Lay the first art
          </button>
        </>
      )}
    </div>
  )
}
