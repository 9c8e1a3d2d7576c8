import { judgeLegibility } from '../../core/checks/legibility/part.ts'
import { shadedLuminances } from '../../core/checks/legibility/shaded.ts'
import { heldViews } from '../../core/checks/legibility/usual.ts'
import { usualGrid } from '../../core/checks/sweep/view-grid.ts'
import { typeBlocks } from '../support/type-blocks.ts'
import type { BenchResult } from './bench.ts'

/** Pieces of type in the map, and about how many views they are seen in: three lamps, 24 turns, 14 tilts. */
const pieces = 50
const tilts = { fromDeg: -58.5, count: 14, stepDeg: 9 }
/** Seconds; two processors may take them, one does. */
const aim = 5

/** Legibility of fifty lines of type on a carton of 300 ppi, a fifth each as type is printed on foil, on one processor. */
export async function run(): Promise<BenchResult> {
  const input = typeBlocks(pieces)
  const { scene, map, sets } = input
  const views = heldViews(scene, { ...usualGrid(scene), tilts })
  const seconds = async (some: typeof views) => {
    const before = process.cpuUsage()
    const needs = { views: some, luminances: shadedLuminances(scene, map, sets), marked: [] }
    const { judged } = await judgeLegibility(input, needs)
    if (judged.filter(({ kind }) => kind === 'judged').length !== pieces) throw new Error('type was lost')
    const { user, system } = process.cpuUsage(before)
    return (user + system) / 1e6
  }
  const measured = await seconds(views.slice(0, 1))
  const all = await seconds(views)
  return {
    title: `legibility of ${pieces} lines of type, ${map.width} × ${map.height} pixels, ${views.length} views`,
    rows: [
      { name: 'size, lines and matter alone, processor time', value: measured, unit: 's', aim: null },
      { name: 'all, processor time', value: all, unit: 's', aim },
    ],
  }
}
