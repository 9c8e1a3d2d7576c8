import { useState } from 'react'
import {
  type StillFormat,
  type StillKind,
  stillKinds,
  usualContact,
} from '../../../core/export/stills/wish.ts'
import { fileStem } from '../../../core/proof/names.ts'
import { Pick } from '../../panels/Choice.tsx'
import { SendCard } from '../../panels/proofs/SendCard.tsx'
import { Ticks } from '../../panels/proofs/Ticks.tsx'
import { sendWords, stillWords } from '../../panels/proofs/words.ts'
import { jobFileName, saveOut } from '../../state/save-out.ts'
import { send } from '../../state/sending.ts'
import type { SendProps } from './props.ts'

const formats: Readonly<Record<string, { readonly title: string; readonly of: StillFormat }>> = {
  png8: { title: 'PNG, for screens', of: { kind: 'png', depth: 8 } },
  tiff8: { title: 'TIFF, for layouts', of: { kind: 'tiff', depth: 8 } },
  tiff16: { title: 'TIFF of 16 bits, to be edited', of: { kind: 'tiff', depth: 16 } },
  exr: { title: 'OpenEXR, linear light', of: { kind: 'exr', depth: 16 } },
}

const sizes = [
  { value: '1200 1200', title: '1200 × 1200' },
  { value: '1920 1080', title: '1920 × 1080' },
  { value: '2400 2400', title: '2400 × 2400' },
]

/** Stills of the carton: which, in which kind of file, how large. */
export function PicturesSend({ desk, state, job, card }: SendProps) {
  const [what, setWhat] = useState<readonly StillKind[]>(['contact', 'best', 'darkest', 'glare'])
  const [format, setFormat] = useState('png8')
  const [size, setSize] = useState('1200 1200')
  const offered = stillKinds.filter(kind => kind !== 'panels' || job.carton !== null)
  const wanted = offered.filter(kind => what.includes(kind))
  const make = (): void =>
    void send(desk, 'pictures', async ({ taskId }) => {
      const { art } = state.session
      if (art === null) return null
      const [width = 0, height = 0] = size.split(' ').map(Number)
      const jobName = jobFileName(desk.store.get())
      const made = await desk.host('makeStills', {
        fileId: art.file.id,
        taskId,
        job: { ...job },
        jobName,
        wish: {
          what: [...wanted],
          format: formats[format]?.of ?? { kind: 'png', depth: 8 },
          width,
          height,
          contact: usualContact,
        },
      })
      return saveOut(desk, made, `${fileStem(jobName)}.pictures`)
    })
  return (
    <SendCard
      {...sendWords.pictures}
      {...card}
      lacks={wanted.length === 0 ? 'Choose at least one.' : null}
      onMake={make}
    >
      <Ticks
        label="Which"
        options={offered.map(value => ({ value, title: stillWords[value] }))}
        chosen={wanted}
        onChange={setWhat}
      />
      <div className="fields two">
        <Pick
          label="Kind of file"
          value={format}
          options={Object.entries(formats).map(([value, { title }]) => ({ value, title }))}
          onChange={setFormat}
        />
        <Pick label="Size of each" value={size} options={sizes} onChange={setSize} />
      </div>
      <p className="quiet">
        They are worked out on the processor, without shortcuts: minutes, not seconds. Best, darkest and worst
        glare are those that the glare check finds.
      </p>
    </SendCard>
  )
}
