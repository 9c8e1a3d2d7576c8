import { checkCancelled, type Task } from '../../core/base/task.ts'
import { judgedTimes } from '../../core/job/flash-path.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { samplePath } from '../../core/job/path.ts'
import { sceneAt } from '../../core/job/scene.ts'
import { FlashMeter, type FlashStretch } from '../../core/reference/flash.ts'
import type { Scene } from '../../core/reference/scene.ts'

/** Small pictures of scenes, as `FlashMeter` takes them. */
export type FlashPictures = (scenes: readonly Scene[]) => Promise<readonly Float32Array[]>

/** Pictures asked for at a time: a reading waits no longer than these take. */
const picturesAtOnce = 4

/** Where a path at its own pace flashes more than WCAG 2.3.1 allows. Rejects with Cancelled. */
export async function countFlashes(
  pictures: FlashPictures,
  job: Job,
  path: LampPath,
  task: Task,
): Promise<readonly FlashStretch[]> {
  const meter = new FlashMeter()
  const times = judgedTimes(path)
  for (let i = 0; i < times.length; i += picturesAtOnce) {
    task.progress?.(i / times.length, 'counting flashes')
    checkCancelled(task)
    const part = times.slice(i, i + picturesAtOnce)
    const seen = await pictures(part.map(timeS => sceneAt(job, samplePath(path, timeS))))
    seen.forEach((picture, k) => {
      meter.add(part[k]!, picture)
    })
  }
  checkCancelled(task)
  return meter.stretches()
}
