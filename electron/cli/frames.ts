import { basename, join } from 'node:path'
import { remaining, restOf } from '../../core/base/remaining.ts'
import type { LampPath } from '../../core/job/job.ts'
import { frameName, mostFrames } from '../../core/job/movie.ts'
import { frameTimes, pathLength } from '../../core/job/path.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { frameInputs } from '../frame-inputs.ts'
import { FrameLedger } from '../frame-ledger.ts'
import type { FrameRenderer } from '../render-frames.ts'
import type { FrameStyle } from '../workers/frame.ts'
import { makeFolder, writeFileSafely } from '../write-file.ts'
import { type Args, UsageError } from './args.ts'
import { jobAtWork, jobFlags } from './at-work.ts'
import type { Command, Output } from './command.ts'
import { flashesAlong, framesOf, judged, sayFlashes } from './frame-flashes.ts'
import { frameRenderer } from './frame-renderer.ts'
import { countOf, rangeOf } from './numbers.ts'
import { pathOf, scenesAlong } from './path-scenes.ts'
import { pictureFlags, styleOf } from './picture-flags.ts'
import { progressTask } from './progress.ts'
import { counted } from './table.ts'

export const frames: Command = {
  usage: {
    name: 'frames',
    says: 'a sequence of pictures along a lamp path; run again, it goes on where it was broken off',
    operands: ['JOB'],
    flags: {
      out: {
        value: 'DIR',
        needed: true,
        says: 'folder for frame-0001.png and so on; made when it is not there',
      },
      frames: { value: 'N', needed: true, says: 'how many' },
      only: {
        value: 'A-B',
        says: 'make these frames of them alone, counted from 1; the same bytes as in the whole',
      },
      ...pictureFlags,
      depth: { value: 'N', says: 'bits a component, 8 or 16; 8 when left out' },
      path: { value: 'NAME', says: 'lamp path of the job; its first when left out' },
      damp: { value: null, says: 'slow the path where it flashes more than WCAG 2.3.1 allows' },
      anew: { value: null, says: 'make frames too that are there already, whole and from the same job' },
      json: { value: null, says: 'print what was written, and the flashes that are left, as JSON' },
      ...jobFlags,
    },
  },
  async run(args, output) {
    const jobPath = args.operands[0]!
    const folder = args.need('out')
    const count = countOf(args.need('frames'), 'frames', 1, mostFrames)
    const [first, last] = rangeOf(args.value('only'), 'only', count)
    const style: FrameStyle = { ...styleOf(args), depth: depthOf(args) }
    const name = basename(jobPath)
    const building = progressTask(output, `Building the map of ${name}`)
    const opened = await jobAtWork(args, jobPath, output, building)
    const { job } = opened
    const wanted = pathOf(job, name, args.value('path'))
    const scenesOf = (path: LampPath) => scenesAlong(job, path, frameTimes(path, count), name)
    // Where the lamp would stand in the panel is said before any long work.
    scenesOf(wanted)
    await makeFolder(folder)
    const renderer = await frameRenderer(opened, output, building)
    try {
      const judging = progressTask(output, `Counting the flashes of "${wanted.name}"`)
      const judge = (path: LampPath) => flashesAlong(job, path, renderer, judging)
      // One picture cannot flash.
      const { path, left } =
        count === 1 ? { path: wanted, left: [] } : await judged(wanted, args.has('damp'), judge)
      output.progress(null)
      const flashes = left.map(one => framesOf(frameTimes(path, count), one))
      sayFlashes(output, path, wanted, flashes)
      const all = scenesOf(path).map((scene, i) => ({ scene, file: frameName(i, count) }))
      const part = all.slice(first - 1, last)
      const ledger = await FrameLedger.open(folder, await frameInputs(opened, path, count, style, building))
      const missing = args.has('anew') ? part : await without(part, ledger)
      const kept = part.length - missing.length
      if (kept > 0 && missing.length > 0)
        output.say(`${counted(kept, 'frame is', 'frames are')} there already and kept.`)
      await writeAll(renderer, missing, style, job.view.gamut, folder, ledger, output)
      if (args.has('json'))
        output.print(
          JSON.stringify(
            {
              path: path.name,
              lengthS: pathLength(path),
              dampedFromS: path === wanted ? null : pathLength(wanted),
              frames: count,
              firstFrame: first,
              lastFrame: last,
              folder,
              files: part.map(({ file }) => file),
              made: missing.length,
              kept,
              flashes,
            },
            null,
            2,
          ),
        )
      output.say(
        missing.length === 0
          ? `All ${counted(part.length, 'frame')} of "${path.name}" are in ${folder} already.`
          : `Wrote ${counted(missing.length, 'frame')} of "${path.name}" to ${folder}.`,
      )
    } finally {
      await renderer.close()
    }
  },
}

function depthOf(args: Args): 8 | 16 {
  const text = args.value('depth') ?? '8'
  if (text === '8') return 8
  if (text === '16') return 16
  throw new UsageError(`--depth: expected 8 or 16, got "${text}"`)
}

interface Frame {
  readonly scene: Scene
  readonly file: string
}

async function without(frames: readonly Frame[], ledger: FrameLedger): Promise<readonly Frame[]> {
  const missing: Frame[] = []
  for (const frame of frames) if (!(await ledger.has(frame.file))) missing.push(frame)
  return missing
}

async function writeAll(
  renderer: FrameRenderer,
  frames: readonly Frame[],
  style: FrameStyle,
  color: 'srgb' | 'display-p3',
  folder: string,
  ledger: FrameLedger,
  output: Output,
): Promise<void> {
  const count = frames.length
  const started = performance.now()
  let written = 0
  const line = (frame: number, done: number) =>
    `Frame ${frame} of ${count}, ${Math.floor(done * 100)} %, ${remaining(restOf((performance.now() - started) / 1000, done))}`
  const task = {
    signal: output.signal,
    progress: (done: number) => output.progress(line(Math.min(written + 1, count), done)),
  }
  const packed = renderer.packed(
    frames.map(({ scene }) => scene),
    style,
    () => ({ kind: 'png', color }),
    task,
  )
  try {
    for await (const bytes of packed) {
      const { file } = frames[written]!
      await writeFileSafely(join(folder, file), bytes)
      await ledger.note(file, bytes)
      written++
      if (!output.live) output.say(line(written, written / count))
    }
  } finally {
    output.progress(null)
    if (written > 0 && written < count)
      output.say(`${written} of ${counted(count, 'frame')} are written; the same command goes on from there.`)
  }
}
