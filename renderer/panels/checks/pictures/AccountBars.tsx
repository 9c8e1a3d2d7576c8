import { type Bar, barWords } from '../../../../core/checks/accounting/bars.ts'
import { shareWords } from './words.ts'

interface Props {
  readonly bars: readonly Bar[]
}

/** Holography by what becomes of it, a bar for the whole and one for each panel, with the same as a table. */
export function AccountBars({ bars }: Props) {
  const [whole] = bars
  if (whole === undefined || whole.holographyCm2 === 0) return <p>The job has no holography.</p>
  // One panel and no more is the whole.
  const several = bars.length > 2 || whole.holographyCm2 > (bars[1]?.holographyCm2 ?? 0)
  const shown = (several ? bars : [whole]).map(bar => ({ ...bar, name: bar.panel ?? 'Everything' }))
  const kinds = whole.parts.map(part => part.kind)
  return (
    <figure className="account">
      <figcaption>
        <strong>
          {shareWords(whole.seen)} of {cm2(whole.holographyCm2)} of holography is seen.
        </strong>
      </figcaption>
      <ul className="account-key" aria-label="What the patterns mean">
        {kinds.map(kind => (
          <li key={kind}>
            <span className={`fill ${kind}`} aria-hidden="true" /> {barWords[kind]}
          </li>
        ))}
      </ul>
      <div aria-hidden="true">
        {shown.map(({ name, holographyCm2, seen, parts }) => (
          <div key={name} className="account-bar">
            <span>{name}</span>
            <span className="quiet">
              {cm2(holographyCm2)}, {shareWords(seen)} seen
            </span>
            {/* As long as its part of the largest, so that panels can be compared. */}
            <div className="bar-line" style={{ width: `${(100 * holographyCm2) / whole.holographyCm2}%` }}>
              {parts.map(({ kind, share }) => (
                <span key={kind} className={`fill ${kind}`} style={{ width: `${100 * share}%` }} />
              ))}
            </div>
          </div>
        ))}
      </div>
      <details>
        <summary>The same in numbers</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">Where</th>
              <th scope="col">What becomes of it</th>
              <th scope="col">Area</th>
              <th scope="col">Share</th>
            </tr>
          </thead>
          {shown.map(({ name, parts }) => (
            <tbody key={name}>
              {parts.map(({ kind, cm2: area, share }, i) => (
                <tr key={kind}>
                  {i > 0 ? null : (
                    <th scope="rowgroup" rowSpan={parts.length}>
                      {name}
                    </th>
                  )}
                  <td>{barWords[kind]}</td>
                  <td className="number-cell">{cm2(area)}</td>
                  <td className="number-cell">{shareWords(share)}</td>
                </tr>
              ))}
            </tbody>
          ))}
        </table>
      </details>
    </figure>
  )
}

const cm2 = (area: number): string => `${area.toFixed(area < 10 ? 1 : 0)} cm²`
