import {
  clearRole,
  sameTarget,
  setBoard,
  setEffect,
  setPanel,
  setRole,
  setWhite,
} from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import type { Amount, Target } from '../../core/roles/role.ts'
import { BoardCard } from '../panels/BoardCard.tsx'
import { CoatCard } from '../panels/CoatCard.tsx'
import { EffectCard } from '../panels/EffectCard.tsx'
import { StackStrip } from '../panels/StackStrip.tsx'
import { Thumb } from '../panels/Thumb.tsx'
import { WhiteFields } from '../panels/WhiteFields.tsx'
import type { Previews } from '../state/previews.ts'
import { assignedTo, coatsOf, type Member } from '../state/stack.ts'
import { inView, type OpenArt, type State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import type { Store } from '../state/store.ts'

interface Props {
  readonly store: Store<State>
  readonly state: State
  readonly job: Job
  readonly art: OpenArt
  readonly previews: Previews
}

/** Longest side of a preview, px: twice what is shown, for sharp screens. */
const previewSize = 128

/** The stack strip joined to the state. */
export function StackPart({ store, state, job, art, previews }: Props) {
  const { printed, unprinted } = coatsOf(art.art, art.assigned)
  const { card } = state.view
  const change = (edit: (job: Job) => Job, gesture: string | null = null) =>
    store.set(now => decide(now, edit, gesture))
  const settled = () => store.set(settle)
  const toggle = (next: Target | 'board', isOpen: boolean) =>
    store.set(now => inView(now, { card: isOpen ? null : next }))
  return (
    <StackStrip
      printed={printed}
      unprinted={unprinted}
      stale={state.session.stale}
      card={coat => coat.members.map(cardOf)}
      board={
        <BoardCard
          job={job}
          open={card === 'board'}
          onOpen={() => toggle('board', card === 'board')}
          onPanel={panel => change(setPanel(panel), 'panel')}
          onBoard={board => change(setBoard(board), 'board')}
          onSettle={settled}
        />
      }
    />
  )

  function cardOf(member: Member) {
    const { target } = member
    const open = card !== null && card !== 'board' && sameTarget(card, target)
    return (
      <CoatCard
        key={`${target.kind} ${target.id}`}
        member={member}
        open={open}
        thumb={amount => thumbOf(member, amount)}
        groupRole={group => assignedTo(art.assigned, group)}
        onOpen={() => toggle(target, open)}
        onRole={(of, role, amount) => change(setRole(of, role, amount))}
        onRule={of => change(clearRole(of))}
      >
        {extraOf(member)}
      </CoatCard>
    )
  }

  function thumbOf(member: Member, amount: Amount) {
    const { target, assigned } = member
    const { role } = assigned
    const show = role === 'overprint' ? 'colour' : 'amount'
    const wanted = { fileId: art.file.id, target, show, role, amount, size: previewSize } as const
    return <Thumb of={JSON.stringify(wanted)} load={() => previews.get(wanted, job)} />
  }

  function extraOf({ target, assigned }: Member) {
    switch (assigned.role) {
      case 'holography': {
        const own = job.effects.find(one => sameTarget(one.target, target))
        return (
          <EffectCard
            effect={own?.effect ?? { kind: 'plain', parameters: {} }}
            assumed={own === undefined}
            layers={art.art.layers.filter(layer => layer.kind !== 'group' && layer.id !== target.id)}
            onChange={(effect, gesture) => change(setEffect(target, effect), gesture)}
            onSettle={settled}
          />
        )
      }
      case 'white': {
        const own = job.whites.find(one => sameTarget(one.target, target))
        return (
          <WhiteFields
            opacity={own?.opacity ?? 0.5}
            hits={own?.hits ?? 1}
            assumed={own === undefined}
            onChange={(opacity, hits) => change(setWhite(target, opacity, hits), 'white')}
            onSettle={settled}
          />
        )
      }
      default:
        return null
    }
  }
}
