import type { ShownStrips } from '../../../state/slips.ts'
import { haloColors, haloWords, measured, pairWords } from './words.ts'

interface Props {
  readonly shown: readonly ShownStrips[]
  /** Names of rows that are not outlined. */
  readonly unmarked: readonly string[]
  /** Narrower than this is not noticed, mm. */
  readonly visibleMm: number
  /** What would hide a row. */
  readonly mend: (row: ShownStrips) => string
  readonly onMark: (name: string, on: boolean) => void
}

/** What shows as the groups lie now: how much, how wide, what would hide it, and whether the table outlines it. */
export function SliverTable({ shown, unmarked, visibleMm, mend, onMark }: Props) {
  if (shown.length === 0) return <p role="status">Nothing shows that was not drawn.</p>
  return (
    <ul className="slivers" aria-label="What shows">
      {shown.map(row => {
        const { name, pair, strips } = row
        const { halo, areaMm2, widestMm } = strips
        const color = haloColors[halo]
        const noticed = widestMm > visibleMm
        return (
          <li key={name}>
            <label>
              <input
                type="checkbox"
                checked={!unmarked.includes(name)}
                onChange={event => onMark(name, event.target.checked)}
              />
              <span className="outline-key" style={{ background: color.css }} aria-hidden="true" />
              <span>
                <strong>
                  {pairWords(pair)}: {haloWords[halo]}
                </strong>{' '}
                <span className="quiet">outlined in {color.name}</span>
              </span>
            </label>
            <p>
              {measured(areaMm2, 'mm²')}, {widestMm.toFixed(2)} mm at the widest
              {noticed ? '' : `: below the ${visibleMm.toFixed(2)} mm that are noticed`}
            </p>
            {noticed ? <p className="quiet">{mend(row)}</p> : null}
          </li>
        )
      })}
    </ul>
  )
}
