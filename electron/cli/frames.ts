import { basename, join } from 'node:path'
import { BadInput } from '../../core/base/finding.ts'
import { remaining } from '../../core/base/remaining.ts'
import { writePng } from '../../core/export/png.ts'
import { cartonFindings } from '../../core/job/carton-findings.ts'
import { calmed } from '../../core/job/flash-path.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { frameTimes, pathLength, samplePath } from '../../core/job/path.ts'
import { sceneAt } from '../../core/job/scene.ts'
import { checkStanding } from '../../core/job/standing.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import type { FlashStretch } from '../../core/reference/flash.ts'
import type { PictureSize } from '../../core/reference/render.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { buildFromJob } from '../open-job.ts'
import { FrameRenderer } from '../render-frames.ts'
import { makeFolder, writeFileSafely } from '../write-file.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import { assetNotes, type Command, type Output } from './command.ts'
import { type FlashyFrames, flashesAlong, flashWords, framesOf } from './frame-flashes.ts'
import { countOf, sizeOf } from './numbers.ts'
import { progressTask } from './progress.ts'
import { counted, decimals } from './table.ts'

/** Frames of one run, and pixels of a side: past them it is a slip of the finger. */
const mostFrames = 100_000
const mostPixels = 16_384
/** Rays a pixel along each side: the panel's edge and fine print do not crawl from frame to frame. */
const grid = 2

export const frames: Command = {
  usage: {
    name: 'frames',
    says: 'a sequence of pictures along a lamp path',
    operands: ['JOB'],
    flags: {
      out: {
        value: 'DIR',
        needed: true,
        says: 'folder for frame-0001.png and so on; made when it is not there',
      },
      frames: { value: 'N', needed: true, says: 'how many' },
      size: { value: 'WxH', needed: true, says: 'of each, pixels' },
      path: { value: 'NAME', says: 'lamp path of the job; its first when left out' },
      damp: { value: null, says: 'slow the path where it flashes more than WCAG 2.3.1 allows' },
      json: { value: null, says: 'print what was written, and the flashes that are left, as JSON' },
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const folder = args.need('out')
    const count = countOf(args.need('frames'), 'frames', 1, mostFrames)
    const size = { ...sizeOf(args.need('size'), 'size', mostPixels), grid }
    const name = basename(jobPath)
    const building = progressTask(output, `Building the map of ${name}`)
    const opened = await jobAtWork(args, jobPath, output, building)
    const { job } = opened
    const wanted = pathOf(job, name, args.value('path'))
    // Where the lamp would stand in the panel is said before any long work.
    scenesAlong(job, wanted, count, name)
    await makeFolder(folder)
    const { map, findings } = await buildFromJob(opened, building)
    output.progress(null)
    for (const note of assetNotes(findings)) output.say(note)
    for (const { where, message, fix } of cartonFindings(job))
      output.say(`Note: ${where}: ${message}. ${fix}`)

    const renderer = new FrameRenderer(map, bakingsOf(job, map))
    try {
      const judging = progressTask(output, `Counting the flashes of "${wanted.name}"`)
      const judge = (path: LampPath) => flashesAlong(job, path, renderer, judging)
      const { path, left } = await judged(wanted, count, args.has('damp'), judge)
      output.progress(null)
      const flashes = left.map(one => framesOf(path, count, one))
      sayFlashes(output, path, wanted, flashes)
      const files = await writeAll(renderer, job, scenesAlong(job, path, count, name), size, folder, output)
      if (args.has('json'))
        output.print(
          JSON.stringify(
            {
              path: path.name,
              lengthS: pathLength(path),
              dampedFromS: path === wanted ? null : pathLength(wanted),
              frames: count,
              folder,
              files,
              flashes,
            },
            null,
            2,
          ),
        )
      output.say(`Wrote ${counted(count, 'frame')} of "${path.name}" to ${folder}.`)
    } finally {
      await renderer.close()
    }
  },
}

/** The path as it is to be written, and what of it flashes too often. One picture, or one that stands still, cannot. */
async function judged(
  wanted: LampPath,
  count: number,
  damp: boolean,
  judge: (path: LampPath) => Promise<readonly FlashStretch[]>,
): Promise<{ readonly path: LampPath; readonly left: readonly FlashStretch[] }> {
  if (count === 1 || pathLength(wanted) === 0) return { path: wanted, left: [] }
  const found = damp ? await calmed(wanted, judge) : null
  return found ?? { path: wanted, left: await judge(wanted) }
}

function sayFlashes(
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

/** Names of the files that were written. */
async function writeAll(
  renderer: FrameRenderer,
  job: Job,
  scenes: readonly Scene[],
  size: PictureSize,
  folder: string,
  output: Output,
): Promise<readonly string[]> {
  const count = scenes.length
  const started = performance.now()
  const written: string[] = []
  const line = (frame: number, done: number) => {
    const seconds = ((performance.now() - started) / 1000) * (1 / Math.max(done, 1e-6) - 1)
    return `Frame ${frame} of ${count}, ${Math.floor(done * 100)} %, ${remaining(seconds)}`
  }
  const task = {
    signal: output.signal,
    progress: (done: number) => output.progress(line(Math.min(written.length + 1, count), done)),
  }
  for await (const data of renderer.frames(scenes, size, task)) {
    const { width, height } = size
    const file = `frame-${String(written.length + 1).padStart(digits(count), '0')}.png`
    await writeFileSafely(join(folder, file), writePng({ width, height, channels: 3, data }, job.view.gamut))
    written.push(file)
    if (!output.live) output.say(line(written.length, written.length / count))
  }
  output.progress(null)
  return written
}

/** Names sort in order for as many frames as there are. */
const digits = (count: number): number => Math.max(4, String(count).length)

function pathOf(job: Job, jobName: string, wanted: string | undefined): LampPath {
  const path = wanted === undefined ? job.paths[0] : job.paths.find(one => one.name === wanted)
  if (path !== undefined) return path
  const names = job.paths.map(one => `"${one.name}"`).join(', ')
  throw new BadInput(
    'no-such-path',
    jobName,
    'field "paths"',
    wanted === undefined ? 'the job has no lamp path' : `there is no lamp path "${wanted}"`,
    names === '' ? 'Add a lamp path in the app' : `Choose one of ${names}`,
  )
}

/** The job's scene with lamp and panel where the path has them, for each frame. */
function scenesAlong(job: Job, path: LampPath, count: number, jobName: string): readonly Scene[] {
  return frameTimes(path, count).map((time, i) => {
    const stood = samplePath(path, time)
    const scene = sceneAt(job, stood)
    for (const [lamp, one] of scene.light.lamps.entries())
      if (lamp === 0 || stood.others[lamp - 1])
        checkStanding(one, stood.pose, job.panel, jobName, `path "${path.name}", frame ${i + 1}`)
    return scene
  })
}
