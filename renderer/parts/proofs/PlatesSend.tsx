import { useState } from 'react'
import {
  mostBleedMm,
  type PlateFormat,
  type PlateGroup,
  type PlateUse,
  plateGroups,
  type Reading,
  usualWish,
} from '../../../core/export/plate-wish.ts'
import { fileStem } from '../../../core/proof/names.ts'
import { Choice, Pick } from '../../panels/Choice.tsx'
import { NumberField } from '../../panels/NumberField.tsx'
import { SendCard } from '../../panels/proofs/SendCard.tsx'
import { Ticks } from '../../panels/proofs/Ticks.tsx'
import { plateWords, sendWords } from '../../panels/proofs/words.ts'
import { jobFileId } from '../../state/proof-files.ts'
import { handOver, jobFileName } from '../../state/save-out.ts'
import { send } from '../../state/sending.ts'
import type { SendProps } from './props.ts'

/** Separations: for the overlay or for press, which way they read, as which files. */
export function PlatesSend({ desk, state, job, card }: SendProps) {
  const [use, setUse] = useState<PlateUse>(usualWish.use)
  const [reading, setReading] = useState(usualWish.reading)
  const [marks, setMarks] = useState(usualWish.marks)
  const [bleedMm, setBleedMm] = useState(usualWish.bleedMm)
  const [formats, setFormats] = useState(usualWish.formats)
  const make = (): void =>
    void send(desk, 'plates', async ({ taskId }) => {
      const { art } = state.session
      if (art === null) return null
      const jobName = jobFileName(desk.store.get())
      const wish = { use, reading: { ...reading }, marks, bleedMm, plates: null, formats: [...formats] }
      const made = await desk.host('makePlates', {
        fileId: art.file.id,
        taskId,
        job: { ...job },
        jobName,
        wish,
      })
      const out = await handOver(desk, made.files, `${fileStem(jobName)}.plates`)
      if (out === null) return null
      const saved = jobFileId(state)
      if (saved !== null) await desk.host('proofOut', { jobFileId: saved, id: made.id, name: out.name })
      return [
        out.says,
        `Plates: ${made.plates.map(({ name }) => name).join(', ')}.`,
        ...(made.empty.length === 0 ? [] : [`Nothing prints of ${made.empty.join(', ')}.`]),
        ...made.findings.map(({ where, message }) => `${where}: ${message}`),
      ]
    })
  return (
    <SendCard
      {...sendWords.plates}
      {...card}
      lacks={
        state.job?.art === null
          ? 'The job has no art yet: there is nothing to separate.'
          : formats.length === 0
            ? 'Choose at least one kind of file.'
            : null
      }
      onMake={make}
    >
      <Choice
        label="For"
        value={use}
        options={[
          { value: 'overlay', title: 'Overlay on foil' },
          { value: 'press', title: 'Press' },
        ]}
        onChange={setUse}
      />
      <p className="quiet">{plateWords[use]}</p>
      <div className="fields three">
        {plateGroups.map(group => (
          <Pick<Reading>
            key={group}
            label={groupWords[group]}
            value={reading[group]}
            options={[
              { value: 'right', title: 'right reading' },
              { value: 'wrong', title: 'wrong reading' },
            ]}
            onChange={next => setReading({ ...reading, [group]: next })}
          />
        ))}
      </div>
      <Ticks<PlateFormat>
        label="Files"
        options={[
          { value: 'pdf', title: 'PDF with named separations' },
          { value: 'tiff', title: 'TIFF, one a plate' },
          { value: 'svg', title: 'Outlines as SVG, in mm' },
        ]}
        chosen={formats}
        onChange={setFormats}
      />
      <div className="fields two">
        <NumberField
          label="Bleed"
          unit="mm"
          value={bleedMm}
          min={0}
          max={mostBleedMm}
          step={0.5}
          digits={1}
          onChange={setBleedMm}
        />
      </div>
      <label className="tick">
        <input type="checkbox" checked={marks} onChange={event => setMarks(event.target.checked)} />
        Register and cut marks, and a label
      </label>
    </SendCard>
  )
}

const groupWords: Readonly<Record<PlateGroup, string>> = { white: 'White', inks: 'Inks', varnish: 'Varnish' }
