import { useId } from 'react'
import type { Job } from '../../core/job/job.ts'
import { Choice } from '../panels/Choice.tsx'
import { ProofCaution } from '../panels/proofs/ProofCaution.tsx'
import { sectionWords } from '../panels/proofs/words.ts'
import type { Workshop } from '../scene/workshop.ts'
import type { Desk } from '../state/open.ts'
import { lookAtProofs } from '../state/proofs.ts'
import { proofsSections, type State } from '../state/state.ts'
import type { LoadMovie } from './proofs/props.ts'
import { sections } from './proofs/sections.ts'
import '../style/proofs.css'

interface Props {
  readonly desk: Desk
  readonly state: State
  readonly job: Job
  readonly workshop: Workshop
  readonly loadMovie: LoadMovie
}

/** The sheet of proofs joined to the state. */
export function ProofsPart({ desk, state, job, workshop, loadMovie }: Props) {
  const { section } = state.view.proofs
  const id = useId()
  const Section = sections[section]
  return (
    <div className="proofs-page">
      <Choice
        label="Part of the sheet"
        value={section}
        options={proofsSections.map(value => ({ value, title: sectionWords[value] }))}
        onChange={next => desk.store.set(now => lookAtProofs(now, { section: next }))}
      />
      <section aria-labelledby={id} className={`proofs-${section}`}>
        <h3 id={id} className="unseen">
          {sectionWords[section]}
        </h3>
        <Section desk={desk} state={state} job={job} workshop={workshop} loadMovie={loadMovie} />
      </section>
      <ProofCaution />
    </div>
  )
}
