import { blankArt } from '../../core/art/blank.ts'
import { blankFileId } from '../../core/host/file-ref.ts'
import type { Job } from '../../core/job/job.ts'
import { assignRoles } from '../../core/roles/assign.ts'
import type { OpenArt } from './state.ts'

/** What lies on the table of a job without art. */
export function blankOpen(job: Job): OpenArt {
  const { art } = blankArt({ ...job.panel, ...job.sketch })
  return {
    file: { id: blankFileId, name: art.name, kind: 'art' },
    art,
    sha256: '',
    assigned: assignRoles(art, { aliases: job.aliases, choices: job.roles }),
    findings: [],
    state: null,
  }
}
