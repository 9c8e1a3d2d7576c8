import type { Finding } from '../../core/base/finding.ts'
import { type CartonJob, cartonFindings } from '../../core/job/carton-findings.ts'
import { coatFindings } from '../../core/job/coat-findings.ts'
import type { Job } from '../../core/job/job.ts'
import { mostCoats, omittedFrom } from '../stage/mapTextures.ts'
import type { BuiltFrom, OpenArt } from './state.ts'

/** Everything that was found, each once: in the file, in its layers, while the map was built, and in what the job says of board and white. */
export function allFindings(
  art: OpenArt | null,
  built: BuiltFrom | null,
  job: (Pick<Job, 'board' | 'whites' | 'found'> & CartonJob) | null,
): readonly Finding[] {
  const found = new Map<string, Finding>()
  const all = [
    ...(art?.findings ?? []),
    ...(art?.art.findings ?? []),
    ...(art?.art.layers.flatMap(layer => layer.findings) ?? []),
    ...(built?.findings ?? []),
    ...(job === null ? [] : [...coatFindings(job), ...cartonFindings(job)]),
    ...(built === null ? [] : leftOut(built)),
  ]
  for (const finding of all) found.set(`${finding.code} ${finding.where} ${finding.message}`, finding)
  return [...found.values()]
}

/** What the graphics card has no room for is missing on the table, and there only. */
function leftOut({ map }: BuiltFrom): readonly Finding[] {
  return omittedFrom(map).map(name => ({
    severity: 'warning',
    code: 'not-on-screen',
    where: name,
    message: `the picture on the table leaves it out: it shows ${mostCoats} plates of white, ${mostCoats} spot inks and ${mostCoats} gratings at one place`,
    fix: 'Frames from the command line have it. Join plates that belong together, or give the layer another role',
  }))
}
