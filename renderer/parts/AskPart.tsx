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

/** The question that only the user can answer, joined to what each answer does. */
export function AskPart({ desk, session }: { readonly desk: Desk; readonly session: Session }) {
  const { question } = session
  return question === null ? null : (
    <Ask
      question={question}
      upload={session.about?.files === 'upload'}
      artName={session.art?.file.name ?? null}
      onUnsaved={answer => void answerUnsaved(desk, answer)}
      onPick={opened => void pickArt(desk, opened)}
      onOutside={opened => void readOutside(desk, opened)}
      onUse={(opened, picked) => void relink(desk, opened, picked, true)}
      onLeave={() => ask(desk, null)}
      onDraft={draft => void openDraft(desk, draft.id)}
      onDropDraft={draft => void dropDraft(desk, draft.id)}
      onLater={() => void openStart(desk)}
    />
  )
}
