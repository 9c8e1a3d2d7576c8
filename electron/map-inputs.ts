import type { Job } from '../core/job/job.ts'

/** Fields of a job that no map and no finding of its making depends on; a new field counts until it is named here. */
const besides = [
  'art',
  'brief',
  'carton',
  'seen',
  'measured',
  'board',
  'whiteInk',
  'light',
  'view',
  'paths',
  'pins',
  'limits',
  'waivers',
  'marked',
  'register',
  'variants',
  'variant',
  'aside',
] as const satisfies readonly (keyof Job)[]

/**
 * Everything that a map is made from, as plain data: equal inputs make equal maps.
 * @param files how the files of assets and print profile stand on the disk now, in the job's order
 */
export function mapInputs(artSha256: string, job: Job, files: readonly (string | null)[]): unknown {
  const counted = Object.entries(job).filter(([name]) => !besides.some(one => one === name))
  const { path: _, sha256: __, beside = [], ...reading } = job.art ?? { path: '', sha256: '' }
  const art = { ...reading, beside: beside.map(one => one.sha256) }
  return { artSha256, art, job: Object.fromEntries(counted), files }
}
