import { bakingsOf } from '../../core/reference/baking.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { FrameRenderer, plainStyle } from '../../electron/render-frames.ts'
import { benchScenes } from '../support/bench-scenes.ts'
import type { BenchResult } from './bench.ts'

const size = 1024
const frames = 40
const runs = 2

/**
 * How much of a second core reaches a sequence of frames: twice the time of two workers over the time of one. An
 * efficiency of 0.85 is 1.18. The start, some two seconds of one core, is in it: the sequence is as long as a short movement. Wall time, so the
 * machine must be quiet.
 */
export async function run(): Promise<BenchResult> {
  const [rings] = benchScenes(size)
  if (rings === undefined) throw new Error('no scene')
  const { map, scene } = rings
  const [first, ...others] = scene.light.lamps
  const scenes: Scene[] = Array.from({ length: frames }, (_, i) => ({
    ...scene,
    light: { ...scene.light, lamps: [{ ...first, pose: { ...first.pose, azimuthDeg: i } }, ...others] },
  }))
  const timed = async (workers: number): Promise<number> => {
    const start = performance.now()
    const shape = { width: size, height: size, grid: 1, ...plainStyle }
    const renderer = new FrameRenderer(map, bakingsOf(scene, map), workers)
    for await (const _ of renderer.frames(scenes, shape));
    await renderer.close()
    return (performance.now() - start) / 1000
  }
  let [one, two] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
  for (let i = 0; i < runs; i++) {
    one = Math.min(one, await timed(1))
    two = Math.min(two, await timed(2))
  }
  return {
    title: `${frames} frames of ${size} × ${size} by one worker and by two`,
    rows: [
      { name: 'one worker', value: one, unit: 's', aim: null },
      { name: 'two workers', value: two, unit: 's', aim: null },
      { name: 'twice two workers over one (efficiency 0.85)', value: (2 * two) / one, unit: 'x', aim: 1.18 },
    ],
  }
}
