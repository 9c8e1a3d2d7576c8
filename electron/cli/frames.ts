import { basename, join } from 'node:path'
import { BadInput } from '../../core/base/finding.ts'
import { writePng } from '../../core/export/png.ts'
import { cartonFindings } from '../../core/job/carton-findings.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { frameTimes, samplePath } from '../../core/job/path.ts'
import { sceneAt } from '../../core/job/scene.ts'
import { checkStanding } from '../../core/job/standing.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { buildFromJob, openJob } from '../open-job.ts'
import { renderFrames } from '../render-frames.ts'
import { makeFolder, writeFileSafely } from '../write-file.ts'
import { assetNotes, type Command, changedArt, outsideFlag } from './command.ts'
import { countOf, sizeOf } from './numbers.ts'
import { progressTask, remaining } from './progress.ts'
import { counted } from './table.ts'

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
      ...outsideFlag,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const folder = args.need('out')
    const count = countOf(args.need('frames'), 'frames', 1, mostFrames)
    const size = { ...sizeOf(args.need('size'), 'size', mostPixels), grid }
    const name = basename(jobPath)
    const building = progressTask(output, `Building the map of ${name}`)
    const opened = await openJob(jobPath, args.has('allow-outside'), building)
    if (opened.changed) output.say(changedArt(opened))
    const { job } = opened
    const path = pathOf(job, name, args.value('path'))
    const scenes = scenesAlong(job, path, count, name)
    await makeFolder(folder)
    const { map, findings } = await buildFromJob(opened, building)
    output.progress(null)
    for (const note of assetNotes(findings)) output.say(note)
    for (const { where, message, fix } of cartonFindings(opened.job))
      output.say(`Note: ${where}: ${message}. ${fix}`)

    const started = performance.now()
    let written = 0
    const line = (frame: number, done: number) => {
      const seconds = ((performance.now() - started) / 1000) * (1 / Math.max(done, 1e-6) - 1)
      return `Frame ${frame} of ${count}, ${Math.floor(done * 100)} %, ${remaining(seconds)}`
    }
    const rendering = {
      signal: output.signal,
      progress: (done: number) => output.progress(line(Math.min(written + 1, count), done)),
    }
    for await (const data of renderFrames(map, bakingsOf(job, map), scenes, size, rendering)) {
      const { width, height } = size
      const file = join(folder, `frame-${String(written + 1).padStart(digits(count), '0')}.png`)
      await writeFileSafely(file, writePng({ width, height, channels: 3, data }, job.view.gamut))
      written++
      if (!output.live) output.say(line(written, written / count))
    }
    output.progress(null)
    output.say(`Wrote ${counted(written, 'frame')} of "${path.name}" to ${folder}.`)
  },
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
