import type { Task } from '../../core/base/task.ts'
import { calmed, judgedTimes } from '../../core/job/flash-path.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { pathLength, samplePath } from '../../core/job/path.ts'
import { sceneAt } from '../../core/job/scene.ts'
import { FlashMeter, type FlashStretch } from '../../core/reference/flash.ts'
import { flashLight, flashScene, flashSize } from '../../core/reference/flash-picture.ts'
import { type FrameRenderer, plainStyle } from '../render-frames.ts'
import type { Output } from './command.ts'
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
  for await (const { data } of renderer.frames(scenes, { ...flashSize, ...plainStyle }, task))
    meter.add(times[i++]!, flashLight(data))
  return meter.stretches()
}

/** A path as it is to be shown, and what of it flashes too often; one that stands still cannot. */
export async function judged(
  wanted: LampPath,
  damp: boolean,
  judge: (path: LampPath) => Promise<readonly FlashStretch[]>,
): Promise<{ readonly path: LampPath; readonly left: readonly FlashStretch[] }> {
  if (pathLength(wanted) === 0) return { path: wanted, left: [] }
  const found = damp ? await calmed(wanted, judge) : null
  return found ?? { path: wanted, left: await judge(wanted) }
}

/** Tells that a path was slowed, and which of its seconds still flash too often. */
export function sayFlashes(
  output: Output,
  path: LampPath,
  wanted: LampPath,
  flashes: readonly FlashyFrames[],
): void {
  if (path !== wanted)
    output.say(
      `"${path.name}" was slowed where it flashes, from ${decimals(pathLength(wanted), 1)} to ${decimals(pathLength(path), 1)} s.`,
    )
  if (flashes.length === 0) return
  output.say(
    [
      `Warning: at its own pace "${path.name}" flashes more than the three times a second of WCAG 2.3.1, which can harm viewers:`,
      ...flashes.map(one => `  ${flashWords(one)}`),
      path === wanted
        ? 'Add --damp to slow it there, or do not show it to others as it is.'
        : 'Damping did not bring it within bounds; use broader lamps or fewer turns.',
    ].join('\n'),
  )
}

/** A stretch with the frames that show it, numbered from 1; none where it falls between two frames. */
export interface FlashyFrames extends FlashStretch {
  readonly firstFrame: number | null
  readonly lastFrame: number | null
}

/** @param times of the frames, s */
export function framesOf(times: readonly number[], stretch: FlashStretch): FlashyFrames {
  const shown = times.flatMap((time, i) => (time >= stretch.fromS && time <= stretch.toS ? [i + 1] : []))
  return { ...stretch, firstFrame: shown[0] ?? null, lastFrame: shown.at(-1) ?? null }
}

/** What a reader is told of one stretch. */
function flashWords({ fromS, toS, kind, part, flashes, firstFrame, lastFrame }: FlashyFrames): string {
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
