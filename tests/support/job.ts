import type { Art } from '../../core/art/layer.ts'
import type { Job } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'

/** Art without pixels: enough to make a job of. 1200 × 600 px at 300 ppi are 101.6 × 50.8 mm. */
export const plainArt: Art = {
  name: 'front.psd',
  format: 'PSD',
  width: 1200,
  height: 600,
  resolutionPpi: 300,
  colorMode: 'CMYK',
  depth: 8,
  layers: [],
  channels: [],
  paths: [],
  profile: null,
  palette: null,
  hasComposite: true,
  findings: [],
}

export const plainJob: Job = newJob(plainArt, 'ab'.repeat(32), 'front.psd', [])
