import { useState } from 'react'
import type { ComparedPictures, VersionRef } from '../../../core/host/signing.ts'
import { shortId } from '../../../core/proof/version.ts'
import { Choice, Pick } from '../../panels/Choice.tsx'
import { ProgressBar } from '../../panels/ProgressBar.tsx'
import { BlinkPair } from '../../panels/proofs/BlinkPair.tsx'
import { DifferenceView } from '../../panels/proofs/DifferenceView.tsx'
import { PictureCanvas } from '../../panels/proofs/PictureCanvas.tsx'
import { WipePair } from '../../panels/proofs/WipePair.tsx'
import { momentWords } from '../../panels/proofs/words.ts'
import { sceneOf } from '../../state/look.ts'
import { followProgress, isCancelled } from '../../state/work.ts'
import type { SectionProps } from './props.ts'

type Way = 'beside' | 'wipe' | 'blink' | 'difference'

/** Longest side of the pictures, pixels. */
const side = 640
const now = 'now'

/** Two versions under the lamp and tilt of now: beside each other, on one another, by turns, and how far they differ. */
export function CompareVersions({
  desk,
  state,
  job,
  versions,
  jobFileId,
}: SectionProps & { readonly versions: readonly VersionRef[]; readonly jobFileId: string }) {
  const [a, setA] = useState(versions.at(0)?.id ?? now)
  const [b, setB] = useState(now)
  const [way, setWay] = useState<Way>('beside')
  const [running, setRunning] = useState<{ readonly taskId: string; readonly done: number | null } | null>(
    null,
  )
  const [failed, setFailed] = useState<string | null>(null)
  const [made, setMade] = useState<(ComparedPictures & { readonly of: readonly [string, string] }) | null>(
    null,
  )
  const options = [
    { value: now, title: 'the job as it is now' },
    ...versions.map(({ id, madeAt }) => ({ value: id, title: `${shortId(id)}, ${momentWords(madeAt)}` })),
  ]
  const name = (id: string): string => (id === now ? 'now' : shortId(id))
  return (
    <section className="boxed" aria-label="Compare two versions">
      <div className="fields two">
        <Pick label="Compare" value={a} options={options} onChange={setA} />
        <Pick label="with" value={b} options={options} onChange={setB} />
      </div>
      <div className="actions">
        {running === null ? (
          <button type="button" className="solid small" disabled={a === b} onClick={() => void compare()}>
            Compare them
          </button>
        ) : (
          <button
            type="button"
            className="plain small"
            onClick={() => void desk.host('cancel', { taskId: running.taskId }).catch(() => null)}
          >
            Cancel
          </button>
        )}
      </div>
      {running === null ? null : <ProgressBar label="Comparing" done={running.done} />}
      {failed === null ? null : <p role="alert">{failed}</p>}
      {made === null ? (
        <p className="quiet">Both are drawn under the lamp and the tilt of now, without shortcuts.</p>
      ) : (
        <>
          <Choice<Way>
            label="How"
            value={way}
            options={[
              { value: 'beside', title: 'Beside' },
              { value: 'wipe', title: 'With a bar' },
              { value: 'blink', title: 'By turns' },
              { value: 'difference', title: 'Difference' },
            ]}
            onChange={setWay}
          />
          {shown(made)}
        </>
      )}
    </section>
  )

  function shown({ a: first, b: second, difference, numbers, of }: NonNullable<typeof made>) {
    const names = { firstName: name(of[0]), secondName: name(of[1]) }
    switch (way) {
      case 'beside':
        return (
          <div className="pair-beside">
            <figure>
              <PictureCanvas picture={first} label={names.firstName} />
              <figcaption>{names.firstName}</figcaption>
            </figure>
            <figure>
              <PictureCanvas picture={second} label={names.secondName} />
              <figcaption>{names.secondName}</figcaption>
            </figure>
          </div>
        )
      case 'wipe':
        return <WipePair first={first} second={second} {...names} />
      case 'blink':
        return <BlinkPair first={first} second={second} {...names} still={state.view.stillMotion} />
      case 'difference':
        return <DifferenceView picture={difference} numbers={numbers} />
    }
  }

  async function compare(): Promise<void> {
    const { art } = state.session
    if (art === null) return
    const taskId = crypto.randomUUID()
    setRunning({ taskId, done: null })
    setFailed(null)
    const stop = followProgress(desk.host, taskId, ({ done }) => setRunning({ taskId, done }))
    const { light, view } = sceneOf(job, state.view.run)
    const upright = job.panel.heightMm > job.panel.widthMm
    const short = Math.round(0.75 * side)
    try {
      const found = await desk.host('comparePicture', {
        jobFileId,
        artFileId: art.file.id,
        taskId,
        job: { ...job, light, view: { ...job.view, pose: view.pose } },
        a: a === now ? null : a,
        b: b === now ? null : b,
        width: upright ? short : side,
        height: upright ? side : short,
      })
      setMade({ ...found, of: [a, b] })
    } catch (error) {
      if (!isCancelled(error)) setFailed(error instanceof Error ? error.message : String(error))
    } finally {
      stop()
      setRunning(null)
    }
  }
}
