import { inBenchPage } from '../support/bench-page.ts'
import type { BenchResult, BenchRow } from './bench.ts'
import type { FoldTimes } from './pages/fold.ts'

const [width, height] = [1280, 800]

/** What a step of the fold slider may take, ms: a picture of a screen at 60 Hz; a processor that draws gets longer. */
const aims = { card: 1000 / 60, software: 100 } as const

/** The fold slider of the demo carton, from a step of the hand to the picture. */
export async function run(): Promise<BenchResult> {
  const [times, processor] = await inBenchPage(async (tab, processorMs) => {
    const fold = () => tab.evaluate(([w, h]) => window.benchFold(w, h), [width, height] as const)
    // The first round compiles.
    await fold()
    const before = await processorMs()
    const measured = await fold()
    return [measured, (await processorMs()) - before] as const
  })
  const sides = Object.entries(times.sides).map(([side, count]) => `${count} at ${side}`)
  return {
    title: `fold slider, step to picture, ${width} × ${height}, ${times.steps} steps (of the side: ${sides.join(', ')}), ${times.graphics}`,
    rows: [
      ...rowsOf(times),
      {
        name: 'processor time a step, all processors and first steps together',
        value: processor / times.steps,
        unit: 'ms',
        aim: null,
      },
    ],
  }
}

function rowsOf({ software, whole, solid, given, drawn }: FoldTimes): readonly BenchRow[] {
  const aim = software ? aims.software : aims.card
  const row = (name: string, value: number, most: number | null = null): BenchRow => ({
    name,
    value,
    unit: 'ms',
    aim: most,
  })
  return [
    row('step to picture, median', whole.median, aim),
    row('step to picture, 95 %', whole.p95, aim),
    ...Object.entries({
      'edit to leaves': solid,
      'geometry and commands': given,
      'until the picture is there': drawn,
    }).flatMap(([name, { median, p95 }]) => [row(`${name}, median`, median), row(`${name}, 95 %`, p95)]),
  ]
}
