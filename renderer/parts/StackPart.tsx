import { Fragment, Suspense } from 'react'
import type { EffectSpec } from '../../core/effects/effect.ts'
import {
  clearEffect,
  clearRole,
  clearWhite,
  dropUnusedAssets,
  forgetWord,
  sameTarget,
  setBoard,
  setEffect,
  setPanel,
  setPrint,
  setRole,
  setSpot,
  setWhite,
  teachWord,
} from '../../core/job/edit.ts'
import type { Job } from '../../core/job/job.ts'
import { usualWhite } from '../../core/material/plates.ts'
import type { Amount, Target } from '../../core/roles/role.ts'
import { BoardCard } from '../panels/BoardCard.tsx'
import { CoatCard } from '../panels/CoatCard.tsx'
import { MadeWhiteCard } from '../panels/MadeWhiteCard.tsx'
import { PrintCard } from '../panels/PrintCard.tsx'
import { SpotFields } from '../panels/SpotFields.tsx'
import { StackStrip } from '../panels/StackStrip.tsx'
import { Thumb } from '../panels/Thumb.tsx'
import { WhiteFields } from '../panels/WhiteFields.tsx'
import { WordTable } from '../panels/WordTable.tsx'
import type { AssetPreviews } from '../state/assets.ts'
import { type EffectDesk, effectSources, previewSize } from '../state/effectSources.ts'
import type { Desk } from '../state/open.ts'
import type { Previews } from '../state/previews.ts'
import { chooseProfile } from '../state/profile.ts'
import { assignedTo, coatsOf, type Member, plateOf } from '../state/stack.ts'
import { inView, type OpenArt, type State } from '../state/state.ts'
import { decide, settle } from '../state/steps.ts'
import { AreasPart } from './AreasPart.tsx'
import { ArtReadPart } from './ArtReadPart.tsx'
import { CartonPart } from './CartonPart.tsx'
import { late } from './late.tsx'

// Its kinds and their drawings come with the first card of holography that is opened.
const EffectCard = late(async () => (await import('../panels/EffectCard.tsx')).EffectCard)

interface Props {
  readonly desk: Desk
  readonly state: State
  readonly job: Job
  readonly art: OpenArt
  readonly previews: Previews
  readonly assetPreviews: AssetPreviews
}

/** Thumbs of a coat that is folded up. */
const stripLength = 6

/** The stack strip joined to the state. */
export function StackPart({ desk, state, job, art, previews, assetPreviews }: Props) {
  const { store } = desk
  const { printed, unprinted } = coatsOf(art.art, art.assigned, job.madeWhite === null ? [] : ['white'])
  const board = printed.find(coat => coat.role === 'substrate')
  const { card } = state.view
  const change = (edit: (job: Job) => Job, gesture: string | null = null) =>
    store.set(now => decide(now, edit, gesture))
  const settled = () => store.set(settle)
  const effects: EffectDesk = { desk, job, art, previews, assetPreviews, change }
  const toggle = (next: Target | 'board', isOpen: boolean) =>
    store.set(now => inView(now, { card: isOpen ? null : next, drawing: null }))
  return (
    <StackStrip
      reading={<ArtReadPart desk={desk} job={job} art={art} />}
      words={
        <WordTable
          words={job.aliases}
          onTeach={(word, role) => change(teachWord(word, role))}
          onForget={word => change(forgetWord(word))}
        />
      }
      printed={printed.filter(coat => coat !== board)}
      unprinted={unprinted}
      stale={state.session.stale}
      card={coat => (
        <>
          {coat.role === 'white' && job.madeWhite !== null ? (
            <MadeWhiteCard
              recipe={job.madeWhite}
              onOpen={() =>
                store.set(now =>
                  inView(now, { sheet: 'checks', checks: { ...now.view.checks, section: 'white' } }),
                )
              }
            />
          ) : null}
          {coat.members.map(cardOf)}
        </>
      )}
      strip={coat =>
        coat.members
          .slice(0, stripLength)
          .map(member => (
            <Fragment key={`${member.target.kind} ${member.target.id}`}>
              {thumbOf(member, member.assigned.amount)}
            </Fragment>
          ))
      }
      openRole={
        card === null || card === 'board' || card.kind === 'outline'
          ? null
          : (assignedTo(art.assigned, card)?.role ?? null)
      }
      board={
        <>
          <AreasPart {...effects} state={state} />
          <PrintCard
            print={job.print}
            condition={state.session.built?.map.print?.name ?? null}
            onPrint={print => change(setPrint(print), 'print')}
            onChoose={() => void chooseProfile(desk)}
            onSettle={settled}
          />
          <BoardCard
            job={job}
            open={card === 'board'}
            onOpen={() => toggle('board', card === 'board')}
            onPanel={panel => change(setPanel(panel), 'panel')}
            onBoard={board => change(setBoard(board), 'board')}
            onSettle={settled}
          >
            {board?.members.map(cardOf)}
          </BoardCard>
          <CartonPart store={store} job={job} />
        </>
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

  /** The layer's own effect, or that of the nearest group that has one. */
  function chosenFor({ target, groups }: Member) {
    const nearest = [target, ...groups.map(group => group.target).reverse()]
    return nearest
      .map(of => job.effects.find(one => sameTarget(one.target, of)))
      .find(found => found !== undefined)
  }

  /** What the rules took; always with the kind's own numbers. */
  function suggestedFor(target: Target): EffectSpec {
    const areas = state.session.built?.map.areas ?? []
    const kind = areas.find(area => target.kind === 'layer' && area.layerId === target.id)?.effect
    return { kind: kind === undefined || kind === '' ? 'plain' : kind, parameters: {} }
  }

  function reasonFor({ target, name }: Member): string {
    const found = state.session.built?.findings.find(
      finding => finding.code === 'effect-by-rule' && finding.where === `${target.kind} "${name}"`,
    )
    return found?.message ?? 'nobody has chosen it yet'
  }

  function extraOf(member: Member) {
    const { target, assigned } = member
    switch (assigned.role) {
      case 'holography': {
        const own = chosenFor(member)
        return (
          <Suspense>
            <EffectCard
              effect={own?.effect ?? suggestedFor(target)}
              reason={own === undefined ? reasonFor(member) : null}
              sources={effectSources(effects, target, member.name, own?.effect ?? suggestedFor(target))}
              onChange={(effect, gesture) =>
                change(now => dropUnusedAssets(setEffect(target, effect)(now)), gesture)
              }
              onRule={() => change(now => dropUnusedAssets(clearEffect(own?.target ?? target)(now)))}
              onSettle={settled}
            />
          </Suspense>
        )
      }
      case 'white': {
        const plate = plateOf(member, art.assigned)
        const { stated, ...usual } = { stated: undefined, ...usualWhite(art.art, plate) }
        const own = job.whites.find(one => sameTarget(one.target, plate) || sameTarget(one.target, target))
        return (
          <WhiteFields
            white={own ?? { ...usual, opacity: { from: 'contrast', value: usual.opacity } }}
            stated={own === undefined && stated === true}
            assumed={own === undefined}
            onChange={white => change(setWhite({ ...white, target: own?.target ?? plate }), 'white')}
            onRule={() => change(clearWhite(own?.target ?? plate))}
            onSettle={settled}
          />
        )
      }
      case 'spotInk': {
        const plate = plateOf(member, art.assigned)
        const own = job.spots.find(one => sameTarget(one.target, plate) || sameTarget(one.target, target))
        const coat = state.session.built?.map.spots.find(spot => spot.name === nameOf(plate))
        return (
          <SpotFields
            name={member.name}
            lab={own?.lab ?? coat?.lab ?? null}
            spectrum={own?.spectrum ?? null}
            measured={own !== undefined}
            onChange={(lab, spectrum) =>
              change(setSpot({ target: own?.target ?? plate, lab, spectrum }), 'spot')
            }
            onRule={() => change(setSpot({ target: own?.target ?? plate, lab: null, spectrum: null }))}
            onSettle={settled}
          />
        )
      }
      default:
        return null
    }
  }

  /** As the map names the coat of a plate. */
  function nameOf(plate: Target): string | undefined {
    const list = plate.kind === 'layer' ? art.art.layers : art.art.channels
    return list.find(one => one.id === plate.id)?.name
  }
}
