import {
  BufferTarget,
  canEncodeVideo,
  Mp4OutputFormat,
  Output,
  type VideoCodec,
  VideoSample,
  VideoSampleSource,
  WebMOutputFormat,
} from 'mediabunny'
import { BadInput } from '../../core/base/finding.ts'
import { checkCancelled, type Task } from '../../core/base/task.ts'
import { usualBitrate } from '../../core/job/movie.ts'
import type { Scene } from '../../core/reference/scene.ts'
import type { FrameLook, StageFrames } from './stage-frames.ts'

export interface VideoOptions extends FrameLook {
  readonly name: string
  readonly format: 'webm' | 'mp4'
  readonly rate: number
  readonly bitrate: number | null
}

/** Codecs of each container, the one that most players take first. */
const codecs = { webm: ['vp9', 'av1', 'vp8'], mp4: ['avc', 'av1'] } as const satisfies Record<
  VideoOptions['format'],
  readonly VideoCodec[]
>

/** The first codec of a container that this browser encodes at that size; null where it encodes none. */
export async function videoCodec({
  format,
  width,
  height,
  rate,
  bitrate,
}: Omit<VideoOptions, 'name' | 'grid' | 'background'>): Promise<VideoCodec | null> {
  const wanted = { width, height, frameRate: rate, bitrate: bitrate ?? usualBitrate(width, height, rate) }
  for (const codec of codecs[format]) if (await canEncodeVideo(codec, wanted).catch(() => false)) return codec
  return null
}

/**
 * Frames from the graphics card into the browser's encoder as planes, 4:2:0 by BT.709, as players expect: the next ones
 * are drawn while one travels and another is encoded. Clear frames travel whole, with their alpha beside the picture.
 */
export function writeVideo(
  options: VideoOptions,
  scenes: readonly Scene[],
  frames: StageFrames,
  task: Task,
): Promise<Video> {
  const { width, height, background } = options
  const sampleAt =
    background === 'transparent'
      ? (i: number, at: Moment) => clearSample(frames.read(scenes[i]!), width, height, at)
      : planarSamples(scenes, frames, { width, height })
  return encodeVideo(options, scenes.length, sampleAt, task)
}

export interface Video {
  readonly file: Blob
  readonly codec: string
}

/** When a frame shows, s. */
export interface Moment {
  readonly timestamp: number
  readonly duration: number
}

/** @param sampleAt gives each frame when its turn comes */
export async function encodeVideo(
  options: VideoOptions,
  count: number,
  sampleAt: (index: number, at: Moment) => VideoSample | Promise<VideoSample>,
  task?: Task,
): Promise<Video> {
  const { format, width, height, rate, background } = options
  const codec = await videoCodec(options)
  if (codec === null) throw noEncoder(options)
  const target = new BufferTarget()
  const output = new Output({
    format: format === 'webm' ? new WebMOutputFormat() : new Mp4OutputFormat({ fastStart: 'in-memory' }),
    target,
  })
  const source = new VideoSampleSource({
    codec,
    bitrate: options.bitrate ?? usualBitrate(width, height, rate),
    alpha: background === 'transparent' ? 'keep' : 'discard',
  })
  output.addVideoTrack(source, { frameRate: rate })
  try {
    await output.start()
    for (let i = 0; i < count; i++) {
      task?.progress?.(i / count, 'drawing')
      checkCancelled(task)
      const sample = await sampleAt(i, { timestamp: i / rate, duration: 1 / rate })
      try {
        await source.add(sample)
      } finally {
        sample.close()
      }
    }
    await output.finalize()
    checkCancelled(task)
  } catch (error) {
    await output.cancel().catch(() => undefined)
    throw error
  }
  if (target.buffer === null) throw new Error('the encoder gave no file')
  return { codec, file: new Blob([target.buffer], { type: `video/${format}` }) }
}

/** Frames on their way from the card at once. */
const underWay = 3

/** Frames in turn, each asked for while those before it travel. */
function planarSamples(
  scenes: readonly Scene[],
  frames: StageFrames,
  { width, height }: { readonly width: number; readonly height: number },
): (index: number, at: Moment) => Promise<VideoSample> {
  const asked: Promise<Uint8Array<ArrayBuffer>>[] = []
  const ask = (most: number) => {
    while (asked.length < Math.min(scenes.length, most)) {
      const planes = frames.planes(scenes[asked.length]!)
      // Whoever gives up does not wait for the rest.
      planes.catch(() => undefined)
      asked.push(planes)
    }
  }
  // The first are drawn while the encoder starts.
  ask(underWay)
  return async (i, at) => {
    ask(i + underWay)
    const planes = await asked[i]!
    delete asked[i]
    return new VideoSample(planes, {
      ...at,
      format: 'I420',
      codedWidth: width,
      codedHeight: height,
      colorSpace,
    })
  }
}

/** As players take a movie that says nothing else. */
const colorSpace = { primaries: 'bt709', transfer: 'bt709', matrix: 'bt709', fullRange: false } as const

const clearSample = (rgba: Uint8Array<ArrayBuffer>, width: number, height: number, at: Moment): VideoSample =>
  new VideoSample(rgba, { ...at, format: 'RGBA', codedWidth: width, codedHeight: height })

function noEncoder({ name, format, width, height }: VideoOptions): BadInput {
  return new BadInput(
    'no-encoder',
    name,
    format === 'mp4' ? 'MP4' : 'WebM',
    `this browser encodes none of ${codecs[format].join(', ')} at ${width} × ${height}`,
    'Choose a smaller size, another kind of file, or write it by `rakelight movie`',
  )
}
