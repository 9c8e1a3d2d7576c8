import { useEffect, useState } from 'react'
import { DecisionForm } from '../../panels/proofs/DecisionForm.tsx'
import { NoJob } from '../../panels/proofs/NoJob.tsx'
import { PeopleForm } from '../../panels/proofs/PeopleForm.tsx'
import { RoundList } from '../../panels/proofs/RoundList.tsx'
import { StandingBox } from '../../panels/proofs/StandingBox.tsx'
import { jobFileId, loadSignoff, sign, signedJob } from '../../state/proof-files.ts'
import { proofsOf } from '../../state/proofs.ts'
import { save } from '../../state/save.ts'
import { saveOut } from '../../state/save-out.ts'
import { useStore } from '../../state/store.ts'
import { report, say, withProgress } from '../../state/work.ts'
import type { SectionProps } from './props.ts'

/** Sign-off joined to the state: how it stands, who was asked, and what each decides. */
export function SignSection({ desk, state, job }: SectionProps) {
  const { store } = desk
  const { signoff, failed, by } = useStore(proofsOf(store), all => all)
  const [asking, setAsking] = useState<'people' | 'decision' | null>(null)
  const id = jobFileId(state)
  // biome-ignore lint/correctness/useExhaustiveDependencies: read again for another job
  useEffect(() => void loadSignoff(desk), [id])
  if (id === null) return <NoJob what="Sign-offs" onSave={() => void save(desk)} />
  const broken = signoff !== null && signoff.broken.length > 0
  const standing = signoff?.standing ?? null
  // A record of another state of the job takes no more: the next word begins a new round.
  const current = standing?.kind === 'stands' ? signoff : null
  const people = current?.round.people ?? []
  const ended = current?.round.state.kind === 'ended'
  return (
    <>
      {signoff === null ? (
        <p>
          Nobody was asked yet. Ask people in a role; each says OK, OK with corrections, or New proof needed.
          The record holds the hashes of the job and of every file it was made from, so an edit or a changed
          byte shows.
        </p>
      ) : (
        <StandingBox
          of={signoff.record.of.id}
          round={signoff.round}
          standing={standing}
          broken={signoff.broken}
        />
      )}
      {signoff === null || signoff.round.people.length === 0 ? null : (
        <RoundList people={signoff.round.people} />
      )}
      {failed.signoff === null ? null : (
        <p role="alert" className="boxed">
          {failed.signoff}
        </p>
      )}
      {broken || ended || asking !== null ? null : (
        <div className="actions">
          {people.length === 0 ? null : (
            <button type="button" className="solid small" onClick={() => setAsking('decision')}>
              Sign…
            </button>
          )}
          <button
            type="button"
            className={people.length === 0 ? 'solid small' : 'plain small'}
            onClick={() => setAsking('people')}
          >
            {people.length === 0
              ? signoff === null
                ? 'Ask people…'
                : 'Begin a new round…'
              : 'Ask more people…'}
          </button>
        </div>
      )}
      {signoff === null || asking !== null ? null : (
        <div className="actions">
          <button type="button" className="plain small" onClick={() => void print(id)}>
            Make a PDF of it
          </button>
        </div>
      )}
      {asking === 'people' ? (
        <PeopleForm
          known={people.length > 0 ? [] : (signoff?.round.people ?? [])}
          by={by}
          onCancel={() => setAsking(null)}
          onAsk={(ask, asker) => {
            setAsking(null)
            proofsOf(store).set(now => ({ ...now, by: asker }))
            void sign(desk, { by: asker, ask, decision: null })
          }}
        />
      ) : null}
      {asking === 'decision' ? (
        <DecisionForm
          people={people}
          white={(signedJob(state) ?? job).view.displayWhite}
          onCancel={() => setAsking(null)}
          onSign={({ by: signer, ...decision }) => {
            setAsking(null)
            void sign(desk, { by: signer, ask: [], decision })
          }}
        />
      ) : null}
    </>
  )

  async function print(jobFileId: string): Promise<void> {
    const { art } = state.session
    if (art === null) return
    try {
      const made = await withProgress(store, desk.host, 'Making the PDF of the sign-off', false, taskId =>
        desk.host('makeSignOffPdf', {
          fileId: art.file.id,
          jobFileId,
          taskId,
          job: { ...(signedJob(state) ?? job) },
        }),
      )
      const said = made && (await saveOut(desk, [made], 'signoff'))
      if (said !== null) say(store, said.join(' '))
    } catch (error) {
      report(store, error)
    }
  }
}
