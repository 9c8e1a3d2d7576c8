import { dirname, resolve } from 'node:path'
import type { AssetFile } from '../core/job/asset.ts'
import type { Changes, Job } from '../core/job/job.ts'
import { artPathFor } from './job-art.ts'

/** A job with the paths of its pictures and profile as they read from where it is going to lie. Its art is left alone. */
export function movedJob(job: Job, from: string, to: string): Job {
  if (dirname(resolve(from)) === dirname(resolve(to))) return job
  const moved = <F extends AssetFile>(file: F): F => ({
    ...file,
    path: artPathFor(to, resolve(dirname(resolve(from)), ...file.path.split('/'))),
  })
  const design = <D extends Changes>(one: D): D =>
    one.print?.profile ? { ...one, print: { ...one.print, profile: moved(one.print.profile) } } : one
  return {
    ...design(job),
    assets: job.assets.map(asset => ({ ...asset, files: asset.files.map(moved) })),
    variants: job.variants.map(one => ({ ...one, changes: design(one.changes) })),
    aside: design(job.aside),
  }
}
