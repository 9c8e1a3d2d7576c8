import type { Asked } from '../../../core/proof/round.ts'
import { decisionWords, roleTerms, viewingWords } from '../../../core/proof/signoff.ts'
import { momentWords } from './words.ts'

/** Everybody who was asked, and what they said last. */
export function RoundList({ people }: { readonly people: readonly Asked[] }) {
  return (
    <ul className="people" aria-label="Who was asked">
      {people.map(({ name, role, said }) => (
        <li key={name}>
          <p className="person">
            <strong>{name}</strong>
            <span className="quiet">{roleTerms[role]}</span>
            <span className="person-said">
              {said === null ? 'not decided' : decisionWords[said.decision]}
            </span>
          </p>
          {said === null ? null : (
            <>
              {said.conditions.length === 0 ? null : (
                <ul className="conditions" aria-label={`Conditions of ${name}`}>
                  {said.conditions.map(one => (
                    <li key={one}>{one}</li>
                  ))}
                </ul>
              )}
              {said.reason === '' ? null : <p>{said.reason}</p>}
              <p className="quiet">
                {[
                  momentWords(said.at),
                  said.viewing === null ? '' : viewingWords[said.viewing.condition],
                  said.display === null ? '' : said.display.kind,
                  said.notes === null || said.notes.open === 0
                    ? ''
                    : said.notes.open === 1
                      ? '1 note was open'
                      : `${said.notes.open} notes were open`,
                ]
                  .filter(Boolean)
                  .join(' · ')}
              </p>
            </>
          )}
        </li>
      ))}
    </ul>
  )
}
