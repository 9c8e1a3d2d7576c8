import { fileStem } from '../../../core/proof/names.ts'
import { shortId } from '../../../core/proof/version.ts'
import { SendCard } from '../../panels/proofs/SendCard.tsx'
import { sendWords } from '../../panels/proofs/words.ts'
import { jobFileId, loadVersions } from '../../state/proof-files.ts'
import { handOver, jobFileName } from '../../state/save-out.ts'
import { send } from '../../state/sending.ts'
import type { SendProps } from './props.ts'

/** The PDF for a meeting. */
export function SheetSend({ desk, state, job, card }: SendProps) {
  const saved = jobFileId(state)
  const make = (): void =>
    void send(desk, 'sheet', async ({ taskId }) => {
      const { art } = state.session
      if (art === null) return null
      const jobName = jobFileName(desk.store.get())
      const made = await desk.host('makeProofSheet', {
        fileId: art.file.id,
        jobFileId: saved,
        jobName,
        taskId,
        job: { ...job },
      })
      const out = await handOver(desk, [made], fileStem(jobName))
      if (out === null) return null
      if (saved === null) return [out.says]
      await desk.host('proofOut', { jobFileId: saved, id: made.id, name: out.name })
      await loadVersions(desk)
      return [out.says, `It shows version ${shortId(made.id)}.`]
    })
  return (
    <SendCard {...sendWords.sheet} {...card} lacks={null} onMake={make}>
      <p className="quiet">
        The checks run for it, and its pictures are worked out on the processor: minutes, not seconds. Open
        notes stand in it with their places.
      </p>
    </SendCard>
  )
}
