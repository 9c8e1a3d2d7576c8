import type { TypeResult } from '../../../../core/checks/legibility/result.ts'
import { TypePlot } from './TypePlot.tsx'

interface Props {
  readonly objects: readonly TypeResult[]
  /** Key of the one whose plot is open. */
  readonly chosen: string | null
  readonly onChoose: (key: string | null) => void
  /** Holds the panel in the view in which it reads worst. */
  readonly onWorst: (one: TypeResult) => void
}

/** Every piece of type in words, worst first, with its plot. */
export function TypeList({ objects, chosen, onChoose, onWorst }: Props) {
  return (
    <ol className="type-list" aria-label="Type over all views">
      {objects.map((one, i) => {
        const { key, name, read } = one
        const contrast = read?.contrast ?? null
        const open = key === chosen
        return (
          <li key={key} aria-current={open}>
            <strong>
              {i + 1} {name}
            </strong>
            <p>{wordsOf(one)}</p>
            {read === null || contrast === null ? null : (
              <>
                <div className="actions">
                  <button
                    type="button"
                    className="plain small"
                    aria-expanded={open}
                    onClick={() => onChoose(open ? null : key)}
                  >
                    Contrast over tilt
                  </button>
                  <button type="button" className="plain small" onClick={() => onWorst(one)}>
                    Show it at its worst
                  </button>
                </div>
                {open ? <TypePlot name={name} curve={contrast.curve} limit={read.limit.value} /> : null}
              </>
            )}
          </li>
        )
      })}
    </ol>
  )
}

function wordsOf({ read }: TypeResult): string {
  if (read === null) return 'Nothing of it is printed on the art.'
  const { contrast, measure, limit } = read
  const size = `About ${measure.size.points.toFixed(1)} pt`
  if (contrast === null) return `${size}; no view shows it lit.`
  const { below, fifthPercentile, least, reversed } = contrast
  const changed = reversed > 0 ? `; light and dark change places in ${percent(reversed)}` : ''
  return `${size}. Below ${limit.value}:1 in ${percent(below)} of all views; one in twenty has ${fifthPercentile.toFixed(1)}:1 or less, the worst ${least.toFixed(1)}:1${changed}.`
}

/** What is there is never 0 %. */
const percent = (share: number): string =>
  share > 0 && share < 0.005 ? 'under 1\u00a0%' : `${Math.round(100 * share)}\u00a0%`
