import type { ReactNode } from 'react'
import type { Coat } from '../state/stack.ts'
import { roleWords } from './words.ts'

interface Props {
  readonly printed: readonly Coat[]
  readonly unprinted: readonly Coat[]
  readonly card: (coat: Coat) => ReactNode
  readonly board: ReactNode
  readonly words: ReactNode
  readonly stale: boolean
}

/** A cut through the carton: the coat nearest the eye on top, the board at the bottom, then what is not printed. */
export function StackStrip({ printed, unprinted, card, board, words, stale }: Props) {
  const left = unprinted.reduce((sum, coat) => sum + coat.members.length, 0)
  return (
    <aside className="stack" aria-label="Stack" aria-busy={stale}>
      <p className="seen quiet">Seen from here</p>
      {printed.map(coat => (
        <CoatList key={coat.role} coat={coat} card={card} />
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
      {words}
    </aside>
  )
}

function CoatList({ coat, card }: { readonly coat: Coat; readonly card: (coat: Coat) => ReactNode }) {
  const { title, says } = roleWords[coat.role]
  return (
    <section className={`coat ${coat.role}`} aria-label={title}>
      <h2 title={says}>{title}</h2>
      {card(coat)}
    </section>
  )
}
