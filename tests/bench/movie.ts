import { planMovie, usualRate } from '../../core/job/movie.ts'
import { samplePath } from '../../core/job/path.ts'
import { sceneAt } from '../../core/job/scene.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { buildFromJob, openJob } from '../../electron/open-job.ts'
import { FrameRenderer, plainStyle } from '../../electron/render-frames.ts'
import { inBenchPage } from '../support/bench-page.ts'
import type { BenchResult, BenchRow } from './bench.ts'
import type { MovieTimes } from './pages/movie.ts'

/** On the processor: a short piece of the demo's path, large enough that the start does not count for much. */
const [width, height, frames] = [640, 360, 24] as const
/** In the page: on a processor that draws, a smaller and shorter movie than the 48 frames of 1920 × 1080 of a card. */
const page = { width: 480, height: 270, frames: 6, grids: [2] } as const

/** What a movie may take over its encoder alone, on a graphics card. */
const aimOnCard = 1.3

/**
 * Frames of the demo by the command line's workers, and a movie of the window over its encoder alone on frames that are
 * ready. The page dist/bench.html says the latter of any machine: there `benchMovie(1920, 1080, 48)`.
 */
export async function run(): Promise<BenchResult> {
  const byProcessor = await processorRows()
  const times = await inBenchPage(tab =>
    tab.evaluate(({ width, height, frames, grids }) => window.benchMovie(width, height, frames, grids), page),
  )
  return {
    title: `movies of the demo: ${frames} frames of ${width} × ${height} with 2 × 2 rays by workers; ${times.frames} of ${times.width} × ${times.height} in the window, ${times.codec}, ${times.graphics}`,
    rows: [...byProcessor, ...windowRows(times)],
  }
}

async function processorRows(): Promise<readonly BenchRow[]> {
  const opened = await openJob('demo-assets/demo.job.json', false)
  const { job } = opened
  const { map } = await buildFromJob(opened)
  const plan = planMovie(job.paths[0]!, usualRate, frames / usualRate, 'demo')
  const scenes = plan.times.map(time => sceneAt(job, samplePath(plan.path, time)))
  const minutes = async (workers: number): Promise<number> => {
    const renderer = new FrameRenderer(map, bakingsOf(job, map), workers)
    const style = { width, height, grid: 2, ...plainStyle }
    const start = performance.now()
    for await (const _ of renderer.packed(scenes, style, () => ({ kind: 'png', color: 'srgb' })));
    const taken = performance.now() - start
    await renderer.close()
    return taken / 60_000
  }
  let [one, two] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  for (let round = 0; round < 2; round++) {
    one = Math.min(one, await minutes(1))
    two = Math.min(two, await minutes(2))
  }
  return [
    { name: 'frames a minute, one worker', value: frames / one, unit: '', aim: null },
    { name: 'frames a minute, two workers', value: frames / two, unit: '', aim: null },
    { name: 'twice two workers over one (efficiency 0.85)', value: (2 * two) / one, unit: 'x', aim: 1.18 },
  ]
}

function windowRows({ movies, graphics }: MovieTimes): readonly BenchRow[] {
  const card = !/llvmpipe|swiftshader/i.test(graphics)
  return movies.flatMap(({ grid, room, whole, encoder }) => {
    const what = `window, ${grid} × ${grid} samples${room ? ', room' : ''}`
    return [
      { name: `${what}: a frame of the movie`, value: whole, unit: 'ms', aim: null },
      { name: `${what}: a frame of its encoder`, value: encoder, unit: 'ms', aim: null },
      {
        name: `${what}: movie over encoder`,
        value: whole / encoder,
        unit: 'x',
        aim: card ? aimOnCard : null,
      },
    ]
  })
}
