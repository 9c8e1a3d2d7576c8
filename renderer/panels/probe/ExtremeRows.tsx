import type { PanelPose } from '../../../core/reference/scene.ts'
import { lightWords, poseWords } from './light-words.ts'
import type { Extremes, HeldLight } from './types.ts'

interface Props {
  readonly found: Extremes | null
  readonly onHold: (pose: PanelPose) => void
}

/** The tilt at which a place is brightest and the one at which it is darkest, the turn left as it is. */
export function ExtremeRows({ found, onHold }: Props) {
  return (
    <section className="extremes" aria-label="Brightest and darkest">
      <h3>At this turn</h3>
      {found === null ? (
        <p className="quiet">Being searched …</p>
      ) : (
        <ul>
          <Row title="Brightest" held={found.brightest} onHold={onHold} />
          <Row title="Darkest" held={found.darkest} onHold={onHold} />
        </ul>
      )}
    </section>
  )
}

function Row(props: { readonly title: string; readonly held: HeldLight; readonly onHold: Props['onHold'] }) {
  const { title, held, onHold } = props
  return (
    <li>
      <span className="chip" style={{ background: held.css }} />
      <span>
        {title}: {lightWords(held.luminance)}
        <br />
        <span className="quiet">{poseWords(held.pose)}</span>
      </span>
      <button
        type="button"
        className="plain small"
        aria-label={`Hold it at its ${title.toLowerCase()}`}
        onClick={() => onHold(held.pose)}
      >
        Hold it so
      </button>
    </li>
  )
}
