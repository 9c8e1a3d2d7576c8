import { basename, extname } from 'node:path'
import { remaining, restOf } from '../../core/base/remaining.ts'
import { Cancelled } from '../../core/base/task.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import {
  checkMovie,
  type MovieKind,
  type MoviePlan,
  mostFrames,
  planMovie,
  rateRange,
  usualBitrate,
  usualRate,
} from '../../core/job/movie.ts'
import { pathLength } from '../../core/job/path.ts'
import { type MovieFile, movieKinds, openMovie } from '../movie-file.ts'
import type { FrameRenderer } from '../render-frames.ts'
import type { FrameStyle } from '../workers/frame.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import type { Command, Output } from './command.ts'
import { flashesAlong, framesOf, judged, sayFlashes } from './frame-flashes.ts'
import { frameRenderer } from './frame-renderer.ts'
import { countOf, numberOf } from './numbers.ts'
import { pathOf, scenesAlong } from './path-scenes.ts'
import { pictureFlags, styleOf } from './picture-flags.ts'
import { progressTask } from './progress.ts'
import { counted, decimals } from './table.ts'

export const movie: Command = {
  usage: {
    name: 'movie',
    says: 'a movie along a lamp path: WebM or MP4 by the ffmpeg on the PATH, GIF or animated PNG without it',
    operands: ['JOB'],
    flags: {
      out: { value: 'FILE', short: 'o', needed: true, says: '.webm, .mp4, .gif or .png' },
      ...pictureFlags,
      rate: { value: 'N', says: `frames a second; ${usualRate} when left out` },
      duration: { value: 'S', says: 'seconds; as long as the path when left out' },
      frames: { value: 'N', says: 'how many, in place of --duration' },
      bitrate: { value: 'MBIT', says: 'megabits a second of WebM and MP4; by size and rate when left out' },
      path: { value: 'NAME', says: 'lamp path of the job; its first when left out' },
      damp: { value: null, says: 'slow the path where it flashes more than WCAG 2.3.1 allows' },
      json: { value: null, says: 'print what was written, and the flashes that are left, as JSON' },
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const target = args.need('out')
    const kind = kindOf(target)
    const rate = countOf(args.value('rate') ?? String(usualRate), 'rate', ...rateRange)
    const seconds = secondsOf(args, rate)
    const style: FrameStyle = { ...styleOf(args), depth: 8 }
    const bitrate = bitrateOf(args) ?? usualBitrate(style.width, style.height, rate)
    const clear = style.background === 'transparent'
    checkMovie(kind, { ...style, rate, clear }, basename(target))
    const name = basename(jobPath)
    const building = progressTask(output, `Building the map of ${name}`)
    const opened = await jobAtWork(args, jobPath, output, building)
    const { job } = opened
    const wanted = planMovie(pathOf(job, name, args.value('path')), rate, seconds, name)
    // Where the lamp would stand in the panel, and what cannot be written, are said before any long work.
    scenesAlong(job, wanted.path, wanted.times, name)
    const open = (plan: MoviePlan) =>
      openMovie(target, kind, {
        ...{ width: style.width, height: style.height, rate, bitrate },
        ...{ frames: plan.times.length, loops: plan.loops, clear },
      })
    await (await open(wanted)).abandon()
    const renderer = await frameRenderer(opened, output, building)
    try {
      const judging = progressTask(output, `Counting the flashes of "${wanted.path.name}"`)
      const judge = (path: LampPath) => flashesAlong(job, path, renderer, judging)
      const { path, left } =
        wanted.times.length === 1
          ? { path: wanted.path, left: [] }
          : await judged(wanted.path, args.has('damp'), judge)
      output.progress(null)
      // A path that was slowed has a length of its own.
      const plan = path === wanted.path ? wanted : planMovie(path, rate, null, name)
      const flashes = left.map(one => framesOf(plan.times, one))
      sayFlashes(output, path, wanted.path, flashes)
      const file = await open(plan)
      const bytes = await written(file, renderer, job, plan, kind, style, name, output)
      if (args.has('json'))
        output.print(
          JSON.stringify(
            {
              path: path.name,
              lengthS: pathLength(path),
              dampedFromS: path === wanted.path ? null : pathLength(wanted.path),
              file: target,
              bytes,
              encoder: file.encoder,
              ...{ width: style.width, height: style.height },
              frames: plan.times.length,
              rate,
              seconds: plan.seconds,
              loops: plan.loops,
              flashes,
            },
            null,
            2,
          ),
        )
      output.say(
        `Wrote ${target}: ${counted(plan.times.length, 'frame')}, ${decimals(plan.seconds, 2)} s of "${path.name}"${plan.loops ? ', without a seam when it is repeated' : ''}, ${decimals(bytes / 1e6, 2)} MB.`,
      )
    } finally {
      await renderer.close()
    }
  },
}

/** Gives the file's bytes; whatever stops it leaves nothing of the file. */
async function written(
  file: MovieFile,
  renderer: FrameRenderer,
  job: Job,
  plan: MoviePlan,
  kind: MovieKind,
  style: FrameStyle,
  name: string,
  output: Output,
): Promise<number> {
  try {
    const { times, rate, loops } = plan
    // A player takes a movie as sRGB; a PNG says itself what its numbers mean.
    const color = kind === 'png' ? job.view.gamut : 'srgb'
    const scenes = scenesAlong({ ...job, view: { ...job.view, gamut: color } }, plan.path, times, name)
    const count = scenes.length
    const started = performance.now()
    let taken = 0
    const line = (done: number) =>
      `Frame ${Math.min(taken + 1, count)} of ${count}, ${Math.floor(done * 100)} %, ${remaining(restOf((performance.now() - started) / 1000, done))}`
    const task = { signal: output.signal, progress: (done: number) => output.progress(line(done)) }
    const frames =
      kind === 'gif' || kind === 'png'
        ? renderer.packed(
            scenes,
            style,
            index => (kind === 'gif' ? { kind, index, rate, loops } : { kind, color }),
            task,
          )
        : renderer.frames(scenes, style, task)
    for await (const frame of frames) {
      await file.add('data' in frame ? (frame.data as Uint8Array) : frame)
      taken++
    }
    output.progress(null)
    return await file.finish()
  } catch (error) {
    await file.abandon()
    // An interrupt reaches the encoder too, and what it then says is not the reason.
    throw output.signal.aborted ? new Cancelled() : error
  }
}

function kindOf(target: string): MovieKind {
  const ending = extname(target).slice(1).toLowerCase()
  const kind = movieKinds.find(one => one === ending)
  if (kind !== undefined) return kind
  throw new UsageError(
    `movie: the file's ending says what it is: expected ${movieKinds.map(one => `.${one}`).join(', ')}, got "${target}"`,
  )
}

function secondsOf(args: Args, rate: number): number | null {
  const frames = args.value('frames')
  const duration = numberOf(args, 'duration')
  if (frames !== undefined && duration !== undefined)
    throw new UsageError('movie: --frames and --duration say the same; give one of them')
  if (frames !== undefined) return countOf(frames, 'frames', 1, mostFrames) / rate
  if (duration === undefined) return null
  if (duration <= 0) throw new UsageError(`--duration: expected seconds above 0, got "${duration}"`)
  return duration
}

function bitrateOf(args: Args): number | null {
  const megabits = numberOf(args, 'bitrate')
  if (megabits === undefined) return null
  if (megabits < 0.05 || megabits > 500)
    throw new UsageError(`--bitrate: expected 0.05 to 500 megabits a second, got "${megabits}"`)
  return Math.round(megabits * 1e6)
}
