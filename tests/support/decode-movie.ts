import { spawnSync } from 'node:child_process'

/** What an independent reader says of a movie. */
export interface Probed {
  readonly codec: string
  readonly width: number
  readonly height: number
  readonly frames: number
  /** Frames a second, as `25/1`. */
  readonly rate: string
  readonly seconds: number
  readonly pixels: string
  readonly range: string | undefined
  readonly matrix: string | undefined
}

const works = (tool: string): boolean => spawnSync(tool, ['-version'], { stdio: 'ignore' }).status === 0

/** Whether ffmpeg and ffprobe are here: tests that decode by them are skipped by name where they are not. */
export const ffmpegIsHere = works('ffmpeg') && works('ffprobe')

export function probeMovie(path: string): Probed {
  const { stdout, stderr, status } = spawnSync(
    'ffprobe',
    [
      '-v',
      'error',
      '-count_frames',
      '-select_streams',
      'v:0',
      '-show_streams',
      '-show_format',
      '-of',
      'json',
      path,
    ],
    { encoding: 'utf8' },
  )
  if (status !== 0) throw new Error(`ffprobe: ${stderr}`)
  const { streams, format } = JSON.parse(stdout)
  const [video] = streams
  return {
    codec: video.codec_name,
    width: video.width,
    height: video.height,
    frames: Number(video.nb_read_frames),
    rate: video.avg_frame_rate,
    seconds: Number(format.duration),
    pixels: video.pix_fmt,
    range: video.color_range,
    matrix: video.color_space,
  }
}

/**
 * Every frame as RGB or RGBA of 8 bits.
 * @param decoder one that is asked for by name: the usual one of VP9 leaves alpha out
 */
export function decodeMovie(
  path: string,
  pixels: 'rgb24' | 'rgba',
  { width, height }: { readonly width: number; readonly height: number },
  decoder?: string,
): readonly Uint8Array[] {
  const { stdout, stderr, status } = spawnSync(
    'ffmpeg',
    [
      ...['-v', 'error', ...(decoder === undefined ? [] : ['-c:v', decoder]), '-i', path],
      // The colour matrix is that of the file; accurate rounding, so that the decoder adds no error of its own.
      ...['-sws_flags', 'accurate_rnd+full_chroma_int', '-fps_mode', 'passthrough'],
      ...['-f', 'rawvideo', '-pix_fmt', pixels, 'pipe:1'],
    ],
    { maxBuffer: 2 ** 30 },
  )
  if (status !== 0) throw new Error(`ffmpeg: ${stderr}`)
  const size = width * height * (pixels === 'rgba' ? 4 : 3)
  return Array.from({ length: stdout.length / size }, (_, i) => stdout.subarray(i * size, (i + 1) * size))
}
