import { drawnPpi } from '../../core/art/drawn/usual.ts'
import type { Art } from '../../core/art/layer.ts'
import type { ArtReading, Job } from '../../core/job/job.ts'

/** What of a reading may be changed while the art lies on the table. */
export type Manner = Required<Pick<ArtReading, 'ppi' | 'readAs'>>

/** How a job has what is drawn read. */
export const mannerOf = ({ art }: Job): Manner => ({
  ppi: art?.ppi ?? drawnPpi,
  readAs: art?.readAs ?? 'inks',
})

/** Whether art was read so; what is not drawn is always as it is. */
export const isRead = ({ page, resolutionPpi }: Art, { ppi, readAs }: Manner): boolean =>
  page?.sizeMm === undefined || (resolutionPpi === ppi && page.readAs === readAs)
