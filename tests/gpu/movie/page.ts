import type { Task } from '../../../core/base/task.ts'
import { samplePath } from '../../../core/job/path.ts'
import { sceneAt } from '../../../core/job/scene.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import type { FlashStretch } from '../../../core/reference/flash.ts'
import { flashPicture } from '../../../core/reference/flash-picture.ts'
import { exportMovie, type MovieOptions, type MovieOutcome } from '../../../renderer/export/movie.ts'
import { type FrameLook, StageFrames } from '../../../renderer/export/stage-frames.ts'
import { toBase64 } from '../../support/base64.ts'
import { chartJob, chartMap } from '../../support/movie-chart.ts'

export type Wanted = Pick<MovieOptions, 'format' | 'rate' | 'seconds' | 'bitrate' | keyof FrameLook>

export interface Made {
  readonly outcome: Omit<Extract<MovieOutcome, { kind: 'made' }>, 'file'> | null
  /** The file, base64. */
  readonly bytes: string
  readonly type: string
  readonly said: readonly string[]
  readonly error: string | null
  /** What flashes, when it was not made for that. */
  readonly stretches: readonly FlashStretch[]
}

const none: Made = { outcome: null, bytes: '', type: '', said: [], error: null, stretches: [] }

/** What the specification calls in the page. */
export interface MoviePage {
  /**
   * @param stopAt part done at which it is cancelled; null: never
   * @param path   index of the chart's lamp path
   */
  make(wanted: Wanted, stopAt: number | null, path: number): Promise<Made>
  /** Screen values of the chart's path at a moment, RGBA of 8 bits, base64. */
  frame(look: FrameLook, timeS: number): string
  /** WebGL contexts that are alive. */
  graphics(): string
}

declare global {
  interface Window {
    movie: MoviePage
  }
}

const job = chartJob()
const map = chartMap()
const levels = pyramid(map)
const tables = bakingsOf(sceneAt(job, samplePath(job.paths[0]!, 0)), map).map(bakeTables)
const from = { levels, tables, motions: {} }

window.movie = {
  async make(wanted, stopAt, path) {
    const said: string[] = []
    const stop = new AbortController()
    const task: Task = {
      signal: stop.signal,
      progress: (done, what) => {
        said.push(`${done.toFixed(3)} ${what}`)
        if (stopAt !== null && done >= stopAt) stop.abort()
      },
    }
    try {
      const outcome = await exportMovie(
        {
          ...wanted,
          name: 'Chart',
          job,
          path: job.paths[path]!,
          from,
          flash: async scenes => scenes.map(scene => flashPicture(scene, levels, tables)),
          flashesAccepted: false,
        },
        task,
      )
      if (outcome.kind === 'flashes') return { ...none, said, stretches: outcome.stretches }
      const { file, ...rest } = outcome
      const bytes = toBase64(new Uint8Array(await file.arrayBuffer()))
      return { ...none, outcome: rest, bytes, type: file.type, said }
    } catch (error) {
      return { ...none, said, error: String(error) }
    }
  },

  frame(look, timeS) {
    const frames = new StageFrames(from, look)
    try {
      return toBase64(frames.read(sceneAt(job, samplePath(job.paths[0]!, timeS))))
    } finally {
      frames.close()
    }
  },

  graphics() {
    const frames = new StageFrames(from, { width: 8, height: 8, grid: 1, background: 'transparent' })
    frames.close()
    return frames.graphics
  },
}
