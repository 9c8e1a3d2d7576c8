import type { VersionRef } from '../../../core/host/signing.ts'
import { costWords, sumOf } from '../../../core/proof/cost.ts'
import { shortId } from '../../../core/proof/version.ts'
import { momentWords } from './words.ts'

interface Props {
  readonly version: VersionRef
  readonly newest: boolean
  /** No version is older. */
  readonly first: boolean
}

/** One version that went out: which, when, by what, and what was changed for it. */
export function VersionItem({ version, newest, first }: Props) {
  const { id, madeAt, program, files, changes } = version
  const cost = sumOf(changes.map(one => one.cost))
  return (
    <li>
      <p className="version-head">
        <code title={id}>{shortId(id)}</code>
        <span>{momentWords(madeAt)}</span>
        {newest ? <em>newest</em> : null}
      </p>
      <p className="quiet">
        {files.length === 0 ? 'No file shows it' : files.join(', ')} · rakelight {program}
      </p>
      {first ? (
        <p>The first version.</p>
      ) : changes.length === 0 ? (
        <p>Nothing was changed since the version before.</p>
      ) : (
        <details>
          <summary>
            {changes.length === 1 ? 'One change' : `${changes.length} changes`} since the version before ·
            costs {costWords(cost)}
          </summary>
          <ul className="changes">
            {changes.map(({ words, cost: each, why }) => (
              <li key={words}>
                {words}
                <span className="quiet">
                  {' '}
                  Costs {costWords(each)}: {why}.
                </span>
              </li>
            ))}
          </ul>
        </details>
      )}
    </li>
  )
}
