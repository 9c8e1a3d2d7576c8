import { Zip, ZipPassThrough } from 'fflate'
import { gifEnd } from '../../core/base/gif.ts'
import { checkCancelled, type Task } from '../../core/base/task.ts'
import type { Gamut } from '../../core/color/rgb.ts'
import { ApngStream } from '../../core/export/apng.ts'
import { frameName } from '../../core/job/movie.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { openPackers, type Packers } from './packers.ts'
import type { FrameLook, StageFrames } from './stage-frames.ts'

export interface PicturesOptions extends FrameLook {
  readonly format: 'gif' | 'png' | 'frames'
  readonly rate: number
  readonly loops: boolean
  readonly gamut: Gamut
}

/** Frames read back from the graphics card, packed by workers while the next are drawn, and joined in their order. */
export async function writePictures(
  options: PicturesOptions,
  scenes: readonly Scene[],
  frames: StageFrames,
  task: Task,
): Promise<{ readonly file: Blob; readonly codec: null }> {
  const packers = openPackers()
  try {
    const packed = packedFrames(options, scenes, frames, packers, task)
    return { file: await joinedBy[options.format](options, packed, scenes.length), codec: null }
  } finally {
    packers.close()
  }
}

type Packed = AsyncGenerator<Uint8Array<ArrayBuffer>, void, undefined>

async function* packedFrames(
  options: PicturesOptions,
  scenes: readonly Scene[],
  frames: StageFrames,
  packers: Packers,
  task: Task,
): Packed {
  const { format, width, height, background, rate, loops, gamut } = options
  const under: Promise<Uint8Array<ArrayBuffer>>[] = []
  for (let index = 0, next = 0; index < scenes.length; index++) {
    while (next < scenes.length && under.length <= packers.count) {
      task.progress?.(next / scenes.length, 'drawing')
      checkCancelled(task)
      const picture = { width, height, rgba: frames.read(scenes[next]!), clear: background === 'transparent' }
      const coming = packers.pack(
        format === 'gif'
          ? { kind: 'gif', picture, index: next, rate, loops }
          : { kind: 'png', picture, gamut },
      )
      // Whoever takes it hears of its failure; until then it must not count as unheard.
      coming.catch(() => undefined)
      under.push(coming)
      next++
      // A turn for the window: the hand on the table is not to wait for a whole movie.
      await new Promise(done => setTimeout(done))
    }
    yield await under.shift()!
  }
  checkCancelled(task)
}

const joinedBy = {
  async gif(_: PicturesOptions, packed: Packed): Promise<Blob> {
    return new Blob([...(await blobsOf(packed)), gifEnd], { type: 'image/gif' })
  },

  async png({ width, height, rate, loops }: PicturesOptions, packed: Packed, count: number): Promise<Blob> {
    const stream = new ApngStream({ width, height, frames: count, rate, loops })
    const parts = await blobsOf(packed, png => stream.add(png))
    return new Blob([...parts, stream.end()], { type: 'image/png' })
  },

  async frames(_: PicturesOptions, packed: Packed, count: number): Promise<Blob> {
    const parts: Blob[] = []
    let failed: Error | null = null
    const zip = new Zip((error, bytes) => {
      failed ??= error
      parts.push(new Blob([Uint8Array.from(bytes)]))
    })
    let index = 0
    for await (const png of packed) {
      const entry = new ZipPassThrough(frameName(index++, count))
      // The same frames give the same bytes on any day; a zip knows no time before 1980.
      entry.mtime = '1980-01-02T00:00:00'
      zip.add(entry)
      entry.push(png, true)
    }
    zip.end()
    if (failed !== null) throw failed
    return new Blob(parts, { type: 'application/zip' })
  },
} as const

/** A blob a frame: the browser may keep those away from memory. */
async function blobsOf(packed: Packed, as = (bytes: Uint8Array<ArrayBuffer>) => bytes): Promise<Blob[]> {
  const parts: Blob[] = []
  for await (const bytes of packed) parts.push(new Blob([as(bytes)]))
  return parts
}
