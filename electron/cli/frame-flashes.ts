import type { Task } from '../../core/base/task.ts'
import { judgedTimes } from '../../core/job/flash-path.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { frameTimes, samplePath } from '../../core/job/path.ts'
import { sceneAt } from '../../core/job/scene.ts'
import { FlashMeter, type FlashStretch } from '../../core/reference/flash.ts'
import { flashLight, flashScene, flashSize } from '../../core/reference/flash-picture.ts'
import type { FrameRenderer } from '../render-frames.ts'
import { decimals } from './table.ts'

/** Where a path at its own pace flashes more than WCAG 2.3.1 allows: the small pictures that the app judges too. */
export async function flashesAlong(
  job: Job,
  path: LampPath,
  renderer: FrameRenderer,
  task: Task,
): Promise<readonly FlashStretch[]> {
  const meter = new FlashMeter()
  const times = judgedTimes(path)
  const scenes = times.map(time => flashScene(sceneAt(job, samplePath(path, time))))
  let i = 0
  for await (const codes of renderer.frames(scenes, flashSize, task))
    meter.add(times[i++]!, flashLight(codes))
  return meter.stretches()
}

/** A stretch with the frames that show it, numbered from 1; none where it falls between two frames. */
export interface FlashyFrames extends FlashStretch {
  readonly firstFrame: number | null
  readonly lastFrame: number | null
}

export function framesOf(path: LampPath, count: number, stretch: FlashStretch): FlashyFrames {
  const shown = frameTimes(path, count).flatMap((time, i) =>
    time >= stretch.fromS && time <= stretch.toS ? [i + 1] : [],
  )
  return { ...stretch, firstFrame: shown[0] ?? null, lastFrame: shown.at(-1) ?? null }
}

/** What a reader is told of one stretch. */
export function flashWords({ fromS, toS, kind, part, flashes, firstFrame, lastFrame }: FlashyFrames): string {
  const frames =
    firstFrame === null
      ? ''
      : firstFrame === lastFrame
        ? `, frame ${firstFrame}`
        : `, frames ${firstFrame}–${lastFrame}`
  const what = kind === 'red' ? 'in saturated red' : 'in brightness'
  return (
    `${decimals(fromS, 1)}–${decimals(toS, 1)} s${frames}: ${decimals(flashes, 1)} flashes a second ${what} ` +
    `over ${decimals(100 * part, 0)} % of a 10° field`
  )
}
