import { VideoSample } from 'mediabunny'
import { planMovie, usualRate } from '../../../core/job/movie.ts'
import { samplePath } from '../../../core/job/path.ts'
import { sceneAt } from '../../../core/job/scene.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { surround } from '../../../core/reference/display-picture.ts'
import { type FrameLook, StageFrames } from '../../../renderer/export/stage-frames.ts'
import { encodeVideo, type VideoOptions, writeVideo } from '../../../renderer/export/video.ts'
import type { DemoGift } from './shader.ts'

/** A movie as the window makes it, and its encoder on frames that are ready. */
export interface MovieTime {
  /** Samples a pixel along each side. */
  readonly grid: number
  readonly room: boolean
  /** Milliseconds a frame, from the first scene to the whole file. */
  readonly whole: number
  /** The same without drawing: the frames are ready as bitmaps. */
  readonly encoder: number
}

export interface MovieTimes {
  readonly graphics: string
  readonly width: number
  readonly height: number
  readonly frames: number
  readonly codec: string
  readonly movies: readonly MovieTime[]
}

/** Each in turns, so that whatever else the machine does falls on both. */
const rounds = 3

export async function movieTimes(
  { map, job }: DemoGift,
  width: number,
  height: number,
  frames: number,
  sides: readonly FrameLook['grid'][],
): Promise<MovieTimes> {
  const levels = pyramid(map)
  const movies: MovieTime[] = []
  let codec = ''
  let graphics = ''
  for (const room of [false, true]) {
    const lit = { ...job, light: { ...job.light, roomLevel: room ? job.light.roomLevel : 0 } }
    const plan = planMovie(job.paths[0]!, usualRate, frames / usualRate, 'demo')
    const scenes = plan.times.map(time => sceneAt(lit, samplePath(plan.path, time)))
    const tables = bakingsOf(lit, map).map(bakeTables)
    for (const grid of sides) {
      const options: VideoOptions = {
        ...{ name: 'demo', format: 'webm', width, height, grid, rate: usualRate, bitrate: null },
        background: surround,
      }
      const stage = new StageFrames({ levels, tables, motions: {} }, options)
      graphics = stage.graphics
      const ready: ImageBitmap[] = []
      for (const scene of scenes) {
        stage.draw(scene)
        ready.push(await createImageBitmap(stage.canvas))
      }
      let [whole, encoder] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY]
      for (let round = 0; round < rounds; round++) {
        encoder = Math.min(
          encoder,
          await timed(() =>
            encodeVideo(options, frames, (i, at) => new VideoSample(ready[i]!, at)).then(video => {
              codec = video.codec
            }),
          ),
        )
        whole = Math.min(whole, await timed(() => writeVideo(options, scenes, stage, {})))
      }
      for (const bitmap of ready) bitmap.close()
      stage.close()
      movies.push({ grid, room, whole: whole / frames, encoder: encoder / frames })
    }
  }
  return { graphics, width, height, frames, codec, movies }
}

/** Milliseconds. */
async function timed(work: () => Promise<unknown>): Promise<number> {
  const start = performance.now()
  await work()
  return performance.now() - start
}
