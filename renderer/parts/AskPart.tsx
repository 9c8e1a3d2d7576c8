import { Suspense } from 'react'
import { Ask } from '../panels/Ask.tsx'
import {
  ask,
  type Desk,
  dropDraft,
  openDraft,
  openStart,
  pickArt,
  readOutside,
  relink,
} from '../state/open.ts'
import { answerUnsaved } from '../state/save.ts'
import type { Session } from '../state/state.ts'
import { late } from './late.tsx'

const ArtAsk = late(async () => (await import('../panels/ArtAsk.tsx')).ArtAsk)

/** Pixels of the longest side of a page's picture. */
const pageSize = 320

const pagesOf = (desk: Desk, fileId: string) =>
  desk.host('artPages', { fileId, taskId: crypto.randomUUID(), beside: [], size: pageSize })

/** The question that only the user can answer, joined to what each answer does. */
export function AskPart({ desk, session }: { readonly desk: Desk; readonly session: Session }) {
  const { question } = session
  if (question?.kind === 'password' || question?.kind === 'page' || question?.kind === 'inexact')
    return (
      <Suspense fallback={null}>
        <ArtAsk question={question} pagesOf={fileId => pagesOf(desk, fileId)} />
      </Suspense>
    )
  return question === null ? null : (
    <Ask
      question={question}
      upload={session.about?.files === 'upload'}
      artName={session.art?.file.name ?? null}
      onUnsaved={answer => void answerUnsaved(desk, answer)}
      onPick={opened => void pickArt(desk, opened)}
      onOutside={opened => void readOutside(desk, opened)}
      onUse={(opened, picked, beside) => void relink(desk, opened, picked, beside, true)}
      onLeave={() => ask(desk, null)}
      onDraft={draft => void openDraft(desk, draft.id)}
      onDropDraft={draft => void dropDraft(desk, draft.id)}
      onLater={() => void openStart(desk)}
    />
  )
}
