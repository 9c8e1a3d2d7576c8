import { useState } from 'react'
import { budgetLimits, usualBudget } from '../../../core/proof/budget.ts'
import { fileStem } from '../../../core/proof/names.ts'
import { shortId } from '../../../core/proof/version.ts'
import { NumberField } from '../../panels/NumberField.tsx'
import { SendCard } from '../../panels/proofs/SendCard.tsx'
import { sendWords } from '../../panels/proofs/words.ts'
import { jobFileId, loadVersions } from '../../state/proof-files.ts'
import { handOver, jobFileName } from '../../state/save-out.ts'
import { send } from '../../state/sending.ts'
import type { SendProps } from './props.ts'

const mega = 1e6

/** The one file that a client opens: how large it may be, and whether it tells what the checks found. */
export function PageSend({ desk, state, job, card }: SendProps) {
  const [budget, setBudget] = useState(usualBudget / mega)
  const [checked, setChecked] = useState(true)
  const saved = jobFileId(state)
  const make = (): void =>
    void send(desk, 'page', async ({ taskId }) => {
      const { art } = state.session
      if (art === null) return null
      const jobName = jobFileName(desk.store.get())
      const made = await desk.host('makeProof', {
        fileId: art.file.id,
        jobFileId: saved,
        jobName,
        taskId,
        job: { ...job },
        budget: Math.round(budget * mega),
        checked,
      })
      const out = await handOver(desk, [made], fileStem(jobName))
      if (out === null) return null
      if (saved === null) return [out.says, 'It is in no list of versions: the job was not saved.']
      await desk.host('proofOut', { jobFileId: saved, id: made.id, name: out.name })
      await loadVersions(desk)
      return [out.says, `It is version ${shortId(made.id)}.`]
    })
  return (
    <SendCard {...sendWords.page} {...card} lacks={null} onMake={make}>
      <div className="fields two">
        <NumberField
          label="Largest size"
          unit="MB"
          value={budget}
          min={budgetLimits[0] / mega}
          max={budgetLimits[1] / mega}
          step={1}
          digits={1}
          aside="a smaller file shows less detail, and says so"
          onChange={setBudget}
        />
      </div>
      <label className="tick">
        <input type="checkbox" checked={checked} onChange={event => setChecked(event.target.checked)} />
        Run the checks, and tell what they found
      </label>
      <p className="quiet">
        Mail programs may strip pages, and previews on phones run no scripts: ask the receiver to save the
        file and open it in a browser.
        {saved === null
          ? ' Save the job first, so that its versions are listed and notes find their way back.'
          : ''}
      </p>
    </SendCard>
  )
}
