import { useEffect, useRef } from 'react'
import { heldWords } from '../../../../core/checks/glare/held-words.ts'
import type { Picture } from '../../../../core/host/picture.ts'
import type { FrameFinding } from '../../../state/frames.ts'
import { frameWords } from './frame-words.ts'

interface Props {
  /** Of one subject. */
  readonly findings: readonly FrameFinding[]
  /** What the frames are of. */
  readonly name: string
  /** Null until it is drawn. */
  readonly pictureOf: (finding: FrameFinding) => Picture | null
  /** Key of the finding that the table shows. */
  readonly shown: string | null
  readonly onShow: (finding: FrameFinding) => void
  /** Back to how the table was before. */
  readonly onBack: () => void
}

/** Frames of the carton or of an area: a small picture, what it is the worst or best of, and how the carton is held. */
export function FrameCards({ findings, name, pictureOf, shown, onShow, onBack }: Props) {
  return (
    <section className="frames">
      <h5>{name}</h5>
      <ul aria-label={`Frames of ${name}`}>
        {findings.map(finding => {
          const { key, held } = finding
          const { title, number, limit } = frameWords(finding)
          const here = key === shown
          return (
            <li key={key}>
              <button
                type="button"
                className="frame-card"
                aria-pressed={here}
                title={here ? 'Back to where I was' : 'Shows it on the table, held so'}
                onClick={() => (here ? onBack() : onShow(finding))}
              >
                <Frame picture={pictureOf(finding)} />
                <strong>{title}</strong>
                <span>{number}</span>
                {limit === null ? null : <span>{limit}</span>}
                <span className="quiet">{heldWords(held)}</span>
              </button>
            </li>
          )
        })}
      </ul>
    </section>
  )
}

/** What it shows the button says in words. */
function Frame({ picture }: { readonly picture: Picture | null }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    const context = canvas.current?.getContext('2d')
    if (picture === null || !context) return
    const { width, height, rgba } = picture
    context.putImageData(new ImageData(new Uint8ClampedArray(rgba), width, height), 0, 0)
  }, [picture])
  if (picture === null) return <span className="frame-wait" aria-hidden="true" />
  return (
    <span aria-hidden="true">
      <canvas ref={canvas} width={picture.width} height={picture.height} />
    </span>
  )
}
