import { inBenchPage } from '../support/bench-page.ts'
import type { BenchResult, BenchRow } from './bench.ts'
import type { ShaderFrame } from './pages/shader.ts'

const [width, height] = [800, 600]

/**
 * A frame of the shader over one of the stock physical material with iridescence, in the same page of the same
 * browser under as many lamps, both with or without their surroundings: over the same pixels, and over a frame that the
 * stock material fills, which is what its own time is known for. `still` is the full picture at one sample a pixel,
 * `moving` what the hand sees.
 */
export async function run(): Promise<BenchResult> {
  const times = await inBenchPage(tab =>
    tab.evaluate(([w, h]) => window.bench(w, h), [width, height] as const),
  )
  return {
    title: `shader frame over stock physical material with iridescence, ${times.width} × ${times.height}, ${times.graphics}`,
    rows: times.frames.flatMap(frame => rowsOf(frame)),
  }
}

/** On a processor the hand sees coarser pictures; those are to keep up with it. */
const aimWhenMoving = 1.5

function rowsOf({
  name,
  lamps,
  effort,
  side,
  room,
  ms,
  stock,
  fullStock,
  covered,
  lit,
}: ShaderFrame): BenchRow[] {
  const percent = (part: number) => `${Math.round(100 * part)} %`
  const under = `${lamps === 1 ? 'one lamp' : `${lamps} lamps`}${room ? ' and room' : ''}`
  const what = `${name} (panel ${percent(covered)}, lit ${percent(lit)}), ${under}, ${effort}${side < 1 ? ` at ${side} of the side` : ''}`
  return [
    { name: what, value: ms, unit: 'ms', aim: null },
    {
      name: `${what}, over stock on the same pixels`,
      value: ms / stock,
      unit: 'x',
      aim: null,
    },
    {
      name: `${what}, over stock filling the frame`,
      value: ms / fullStock,
      unit: 'x',
      aim: effort === 'moving' && !room ? aimWhenMoving : null,
    },
  ]
}
