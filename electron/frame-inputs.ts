import { createHash } from 'node:crypto'
import type { Task } from '../core/base/task.ts'
import type { LampPath } from '../core/job/job.ts'
import { jobText } from '../core/job/parse.ts'
import { hashFile } from './hash-file.ts'
import type { JobAtWork } from './open-job.ts'
import { version, workerFile } from './places.ts'
import type { FrameStyle } from './workers/frame.ts'

/**
 * SHA-256 of everything that the frames of a sequence come from: the program that draws them, the job, its art, pictures
 * and profile as they are on the disk, the path, the number of frames and how they are drawn. Equal inputs give equal bytes.
 */
export async function frameInputs(
  { job, art, assets, profile }: JobAtWork,
  path: LampPath,
  count: number,
  style: FrameStyle,
  task?: Task,
): Promise<string> {
  const hash = (place: string | null) => (place === null ? null : hashFile(place, task))
  const files = [
    art?.path ?? null,
    ...(art?.beside ?? []),
    ...assets.flatMap(one => one.files.map(file => file.path)),
    profile?.path ?? null,
  ]
  const hashes: (string | null)[] = []
  for (const file of files) hashes.push(await hash(file))
  const program = [version, await hashFile(workerFile('frame')), await hashFile(workerFile('art'))]
  return createHash('sha256')
    .update(JSON.stringify([program, jobText(job), hashes, path, count, style]))
    .digest('hex')
}
