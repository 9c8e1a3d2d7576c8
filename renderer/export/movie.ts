import { remaining, restOf } from '../../core/base/remaining.ts'
import { checkCancelled, partOf, type Task } from '../../core/base/task.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { checkMovie, type MoviePlan, planMovie } from '../../core/job/movie.ts'
import { samplePath } from '../../core/job/path.ts'
import { sceneAt } from '../../core/job/scene.ts'
import { checkStanding } from '../../core/job/standing.ts'
import type { FlashStretch } from '../../core/reference/flash.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { countFlashes, type FlashPictures } from '../scene/countFlashes.ts'
import { type DrawnFrom, type FrameLook, StageFrames } from './stage-frames.ts'

/** `png` is one animated PNG, `frames` a zip of numbered PNGs. */
export const movieFormats = ['webm', 'mp4', 'gif', 'png', 'frames'] as const
export type MovieFormat = (typeof movieFormats)[number]

export interface MovieOptions extends FrameLook {
  /** Of the job, without an ending: names the file and is said in messages. */
  readonly name: string
  /** The design that is shown. */
  readonly job: Job
  /** One of its lamp paths, damped or not. */
  readonly path: LampPath
  /** What the table draws: map, tables and plates of that design (`useDrawn` has them). */
  readonly from: DrawnFrom
  readonly format: MovieFormat
  /** Frames a second, a whole number of `rateRange`. */
  readonly rate: number
  /** Length, s; null: the path's own. */
  readonly seconds: number | null
  /** Bits a second of WebM and MP4; null: `usualBitrate`. */
  readonly bitrate: number | null
  /** Small pictures for the count of flashes: `workshop.flash`. */
  readonly flash: FlashPictures
  /** The user was told of the flashes and wants the movie all the same: they are not counted again. */
  readonly flashesAccepted: boolean
}

export type MovieOutcome =
  | {
      readonly kind: 'made'
      /** The whole file; its type is its MIME type. */
      readonly file: Blob
      /** A name to propose, with its ending. */
      readonly fileName: string
      /** What a player needs, such as `vp9`; null for pictures. */
      readonly codec: string | null
      readonly frames: number
      readonly seconds: number
      readonly loops: boolean
    }
  /** Nothing was drawn: at the movie's pace the path flashes more than WCAG 2.3.1 allows, in these seconds of it. */
  | { readonly kind: 'flashes'; readonly stretches: readonly FlashStretch[] }

/**
 * Makes a movie of a lamp path: counts its flashes, draws each frame on the graphics card with a canvas of its own (the
 * table goes on undisturbed), and encodes it. The file is in memory, or where the browser keeps large ones; whoever saves
 * it does so whole. Movies are in sRGB, as players take them; PNGs in the job's own gamut.
 * @param task  progress in 0..1 with words such as "frame 12 of 48, 20 s left"; the signal is heard between frames
 * Rejects with Cancelled, BadInput (what cannot be made here, and what can instead) or Error.
 */
export async function exportMovie(options: MovieOptions, task?: Task): Promise<MovieOutcome> {
  const { name, path, rate, seconds, format, background, flash, flashesAccepted } = options
  checkMovie(format === 'frames' ? 'png' : format, { ...options, clear: background === 'transparent' }, name)
  const plan = planMovie(path, rate, seconds, name)
  const scenes = scenesOf(options, plan)
  const checking = flashesAccepted || plan.times.length === 1 ? 0 : 0.1
  if (checking > 0) {
    const stretches = await countFlashes(flash, options.job, plan.path, partOf(task, 0, checking))
    if (stretches.length > 0) return { kind: 'flashes', stretches }
  }
  const frames = new StageFrames(options.from, options)
  try {
    const made = await encoded(
      options,
      plan,
      scenes,
      frames,
      timed(partOf(task, checking, 1), plan.times.length),
    )
    return {
      kind: 'made',
      fileName: `${name}${endings[options.format]}`,
      frames: plan.times.length,
      seconds: plan.seconds,
      loops: plan.loops,
      ...made,
    }
  } finally {
    frames.close()
  }
}

const endings: Readonly<Record<MovieFormat, string>> = {
  webm: '.webm',
  mp4: '.mp4',
  gif: '.gif',
  png: '.png',
  frames: '.frames.zip',
}

type Encoded = { readonly file: Blob; readonly codec: string | null }

function encoded(
  options: MovieOptions,
  plan: MoviePlan,
  scenes: readonly Scene[],
  frames: StageFrames,
  task: Task,
): Promise<Encoded> {
  const { format } = options
  switch (format) {
    case 'webm':
    case 'mp4':
      return import('./video.ts').then(({ writeVideo }) =>
        writeVideo({ ...options, format }, scenes, frames, task),
      )
    case 'gif':
    case 'png':
    case 'frames':
      return import('./pictures.ts').then(({ writePictures }) =>
        writePictures(
          { ...options, format, loops: plan.loops, gamut: gamutOf(options) },
          scenes,
          frames,
          task,
        ),
      )
  }
}

/** A player takes a movie as sRGB; a PNG says itself what its numbers mean. */
const gamutOf = ({ job, format }: MovieOptions) =>
  format === 'png' || format === 'frames' ? job.view.gamut : 'srgb'

function scenesOf(options: MovieOptions, { path, times }: MoviePlan): readonly Scene[] {
  const { job, name } = options
  return times.map((time, i) => {
    const stood = samplePath(path, time)
    const scene = sceneAt(job, stood)
    for (const [lamp, one] of scene.light.lamps.entries())
      if (lamp === 0 || stood.others[lamp - 1])
        checkStanding(one, stood.pose, job.panel, name, `path "${path.name}", frame ${i + 1}`)
    return { ...scene, view: { ...scene.view, gamut: gamutOf(options) } }
  })
}

/** Progress in frames becomes words with the time that is left. */
function timed(task: Task, count: number): Task {
  const started = performance.now()
  return {
    ...task,
    progress: done => {
      checkCancelled(task)
      const left = remaining(restOf((performance.now() - started) / 1000, done))
      task.progress?.(done, `frame ${Math.min(count, Math.floor(done * count) + 1)} of ${count}, ${left}`)
    },
  }
}
