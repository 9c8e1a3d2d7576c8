import { Suspense, useState } from 'react'
import type { Job } from '../../core/job/job.ts'
import type { Desk } from '../state/open.ts'
import type { OpenArt } from '../state/state.ts'
import { late } from './late.tsx'

const ArtReadCard = late(async () => (await import('../panels/ArtReadCard.tsx')).ArtReadCard)

/** How the art is read, joined to what changes it. */
export function ArtReadPart({
  desk,
  job,
  art,
}: {
  readonly desk: Desk
  readonly job: Job
  readonly art: OpenArt
}) {
  const [open, setOpen] = useState(false)
  if (job.art === null) return null
  const files = [art.file.name, ...(job.art.beside ?? []).map(({ path }) => path.split('/').at(-1) ?? path)]
  const change = async (manner: { readonly ppi: number } | { readonly readAs: 'inks' | 'layers' }) =>
    (await import('../state/reading.ts')).readAnew(desk, manner)
  return (
    <details className="unprinted read-as" open={open} onToggle={event => setOpen(event.currentTarget.open)}>
      <summary>How the art is read</summary>
      {open ? (
        <Suspense>
          <ArtReadCard
            key={`${art.file.id} ${art.art.resolutionPpi}`}
            art={art.art}
            files={files}
            panelPpi={job.panel.resolutionPpi}
            onPpi={ppi => void change({ ppi })}
            onReadAs={readAs => void change({ readAs })}
          />
        </Suspense>
      ) : null}
    </details>
  )
}
