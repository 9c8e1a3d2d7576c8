import { type ReactNode, useEffect, useState } from 'react'
import type { RoleName } from '../../core/roles/role.ts'
import type { Coat } from '../state/stack.ts'
import { roleWords } from './words.ts'

interface Props {
  readonly printed: readonly Coat[]
  readonly unprinted: readonly Coat[]
  readonly card: (coat: Coat) => ReactNode
  readonly strip: (coat: Coat) => ReactNode
  /** The role of the layer whose card is open. */
  readonly openRole: RoleName | null
  readonly board: ReactNode
  /** How the art is read. */
  readonly reading: ReactNode
  readonly words: ReactNode
  readonly stale: boolean
}

/** A cut through the carton: the coat nearest the eye on top, the board at the bottom, then what is not printed. */
export function StackStrip({
  printed,
  unprinted,
  card,
  strip,
  openRole,
  board,
  reading,
  words,
  stale,
}: Props) {
  const left = unprinted.reduce((sum, coat) => sum + coat.members.length, 0)
  return (
    <aside className="stack" aria-label="Stack" aria-busy={stale}>
      <p className="seen quiet">Seen from here</p>
      {printed.map(coat => (
        <CoatList key={coat.role} coat={coat} card={card} strip={strip} holdsCard={coat.role === openRole} />
      ))}
      {board}
      {left === 0 ? null : (
        <details className="unprinted">
          <summary>Not printed ({left})</summary>
          {unprinted.map(coat => (
            <CoatList key={coat.role} coat={coat} card={card} />
          ))}
        </details>
      )}
      {reading}
      {words}
    </aside>
  )
}

interface CoatListProps {
  readonly coat: Coat
  readonly card: (coat: Coat) => ReactNode
  /** Small pictures of the members, for a coat that is folded up. */
  readonly strip?: (coat: Coat) => ReactNode
  /** A member's card is open. */
  readonly holdsCard?: boolean
}

/** More members than this fold up, so that the whole stack stays in sight. */
const mostUnfolded = 4

function CoatList({ coat, card, strip, holdsCard = false }: CoatListProps) {
  const { title, says } = roleWords[coat.role]
  const long = strip !== undefined && coat.members.length > mostUnfolded
  const [unfolded, setUnfolded] = useState(false)
  useEffect(() => {
    if (holdsCard) setUnfolded(true)
  }, [holdsCard])
  if (!long)
    return (
      <section className="coat" aria-label={title}>
        <h2 title={says}>{title}</h2>
        {card(coat)}
      </section>
    )
  return (
    <section className="coat" aria-label={title}>
      <h2>
        <button
          type="button"
          className="fold"
          title={says}
          aria-expanded={unfolded}
          onClick={() => setUnfolded(!unfolded)}
        >
          {title} <span className="quiet">{coat.members.length} layers</span>
        </button>
      </h2>
      {unfolded ? card(coat) : <div className="strip">{strip(coat)}</div>}
    </section>
  )
}
