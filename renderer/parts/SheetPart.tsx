import { Suspense } from 'react'
import type { Finding } from '../../core/base/finding.ts'
import { assumedNumbers, setAssumed } from '../../core/job/assumed.ts'
import { setMeasured } from '../../core/job/edit.ts'
import { FindingList } from '../panels/FindingList.tsx'
import { Overlay } from '../panels/Overlay.tsx'
import type { Workshop } from '../scene/workshop.ts'
import { takeArt } from '../state/blank.ts'
import type { Command } from '../state/commands.ts'
import type { Desk } from '../state/open.ts'
import { inView, type State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import { late } from './late.tsx'

// What the first picture does not need comes when it is asked for.
const Anything = late(async () => (await import('../panels/Anything.tsx')).Anything)
const AssumedPage = late(async () => (await import('../panels/AssumedPage.tsx')).AssumedPage)
const ChecksPart = late(async () => (await import('./ChecksPart.tsx')).ChecksPart)
const ProofsPart = late(async () => (await import('./ProofsPart.tsx')).ProofsPart)
// Asked for from here, so that the stage it shares with the table stays in one piece.
const loadMovie = () => import('../export/movie.ts')
const Brief = late(async () => (await import('../panels/Brief.tsx')).Brief)
const Help = late(async () => (await import('../panels/Help.tsx')).Help)

interface Props {
  readonly desk: Desk
  readonly state: State
  readonly findings: readonly Finding[]
  readonly workshop: Workshop
  readonly commands: () => readonly Command[]
}

/** The sheet that is open beside the table, if one is. */
export function SheetPart({ desk, state, findings, workshop, commands }: Props) {
  const { store } = desk
  const { job, view, session } = state
  const { art, about } = session
  const close = () => store.set(now => inView(now, { sheet: null }))
  return (
    <>
      {view.sheet === 'findings' ? (
        <Overlay title="Findings" kind="side" onClose={close}>
          <FindingList findings={findings} />
        </Overlay>
      ) : null}
      {view.sheet === 'checks' && job !== null ? (
        <Overlay title="Checks" kind="side" onClose={close}>
          <Suspense>
            <ChecksPart desk={desk} state={state} job={job} workshop={workshop} />
          </Suspense>
        </Overlay>
      ) : null}
      {view.sheet === 'proofs' && job !== null ? (
        <Overlay title="Proofs" kind="side" onClose={close}>
          <Suspense>
            <ProofsPart desk={desk} state={state} job={job} workshop={workshop} loadMovie={loadMovie} />
          </Suspense>
        </Overlay>
      ) : null}
      {view.sheet === 'assumed' && job !== null ? (
        <Overlay title="Assumed numbers" kind="side" onClose={close}>
          <Suspense>
            <AssumedPage
              job={job}
              numbers={assumedNumbers(job, art)}
              onSet={(number, value) => store.set(now => decide(now, setAssumed(number, value), number.key))}
              onMeasured={(number, note) =>
                store.set(now => decide(now, setMeasured(number.key, note), `${number.key} note`))
              }
              onSettle={() => store.set(settle)}
            />
          </Suspense>
        </Overlay>
      ) : null}
      {view.sheet === 'help' ? (
        <Overlay title="Help" kind="side" onClose={close}>
          <Suspense>
            <Help version={about?.version ?? ''} />
          </Suspense>
        </Overlay>
      ) : null}
      {view.sheet === 'brief' && job !== null ? (
        <Overlay title="Brief" kind="side" onClose={close}>
          <Suspense>
            <Brief
              brief={job.brief}
              whitePart={job.art === null ? job.sketch.whitePart : null}
              onBrief={brief => store.set(now => decide(now, old => ({ ...old, brief }), 'brief'))}
              onWhite={whitePart =>
                store.set(now => decide(now, old => ({ ...old, sketch: { whitePart } }), 'sketch'))
              }
              onArt={() => void takeArt(desk)}
              onSettle={() => store.set(settle)}
            />
          </Suspense>
        </Overlay>
      ) : null}
      {view.sheet === 'anything' ? (
        <Suspense>
          <Anything commands={commands()} onClose={close} />
        </Suspense>
      ) : null}
    </>
  )
}
