import { pyramid } from '../../core/material/mip.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { displayPicture } from '../../core/reference/display-picture.ts'
import { renderTile } from '../../core/reference/render.ts'
import { type BenchScene, benchScenes } from '../support/bench-scenes.ts'
import type { BenchResult, BenchRow } from './bench.ts'

const size = 1024
const runs = 5

/**
 * One frame of the reference picture on one core, light and screen values, from a map of the same resolution that is
 * full of holography. Processor seconds of the best of several runs: the machine may be busy with other things.
 */
export async function run(): Promise<BenchResult> {
  return {
    title: `reference frame, ${size} × ${size}, one core, one lamp`,
    rows: benchScenes(size).flatMap(found => [measure(found), measure(withoutRoom(found))]),
  }
}

function withoutRoom(found: BenchScene): BenchScene {
  const { scene } = found
  return {
    ...found,
    name: `${found.name}, no room`,
    scene: { ...scene, light: { ...scene.light, roomLevel: 0 } },
  }
}

function measure({ name, map, scene, aim }: BenchScene): BenchRow {
  const levels = pyramid(map)
  const tables = bakingsOf(scene, map).map(bakeTables)
  let best = Number.POSITIVE_INFINITY
  for (let i = 0; i < runs; i++) {
    const start = process.cpuUsage()
    const light = renderTile(
      scene,
      levels,
      tables,
      { width: size, height: size, grid: 1 },
      { top: 0, bottom: size },
    )
    displayPicture(light, scene, 8)
    const { user, system } = process.cpuUsage(start)
    best = Math.min(best, (user + system) / 1e6)
  }
  return { name, value: best, unit: 's', aim }
}
