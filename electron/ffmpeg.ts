import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { once } from 'node:events'
import { basename } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { unwritable } from './write-file.ts'

export interface VideoShape {
  readonly kind: 'webm' | 'mp4'
  readonly width: number
  readonly height: number
  /** Frames a second. */
  readonly rate: number
  /** Bits a second. */
  readonly bitrate: number
  /** Frames are RGBA, not RGB; WebM only. */
  readonly clear: boolean
}

/** Encoders of each container, the one that most players take first, with what makes it work well here. */
const encoders: Readonly<
  Record<VideoShape['kind'], readonly (readonly [name: string, ...options: string[]])[]>
> = {
  webm: [
    ['libvpx-vp9', '-deadline', 'good', '-cpu-used', '4', '-row-mt', '1'],
    ['libsvtav1'],
    ['libaom-av1', '-cpu-used', '6'],
    ['libvpx', '-deadline', 'good', '-cpu-used', '4'],
  ],
  mp4: [
    ['libx264', '-preset', 'medium'],
    ['libopenh264'],
    ['h264_videotoolbox'],
    ['h264_mf'],
    ['libsvtav1'],
    ['libaom-av1', '-cpu-used', '6'],
  ],
}

/**
 * The first encoder for a kind of file that the ffmpeg on the PATH has. Throws BadInput, with what to install and what
 * does without, when there is none.
 */
export function findEncoder({ kind, clear }: VideoShape): readonly [name: string, ...options: string[]] {
  const { error, status, stdout } = spawnSync('ffmpeg', ['-hide_banner', '-encoders'], { encoding: 'utf8' })
  const ending = `.${kind}`
  if (error !== undefined || status !== 0)
    throw new BadInput(
      'no-ffmpeg',
      `*${ending}`,
      'encoder',
      'WebM and MP4 are written with the program ffmpeg, and there is none on the PATH',
      `Install ffmpeg (Debian, Ubuntu: apt install ffmpeg; macOS: brew install ffmpeg; Windows: winget install ffmpeg), or write .gif or .png, which need nothing. The window writes WebM without it`,
    )
  const has = (name: string) => new RegExp(`^ V\\S* ${name} `, 'm').test(stdout)
  // Only VP8 and VP9 keep a frame's alpha.
  const found = encoders[kind].find(([name]) => has(name) && (!clear || name.startsWith('libvpx')))
  if (found !== undefined) return found
  throw new BadInput(
    'no-encoder',
    `*${ending}`,
    'encoder',
    `this ffmpeg has none of ${encoders[kind].map(([name]) => name).join(', ')}${clear ? ' that keeps transparency' : ''}`,
    'Install a full build of ffmpeg, or write another kind of file',
  )
}

/** Frames go in one after another, a movie comes out of the ffmpeg on the PATH. To be ended, or given up. */
export class VideoEncoder {
  readonly #child: ChildProcess
  readonly #target: string
  readonly #ended: Promise<number | null>
  #said = ''

  /**
   * @param encoder as {@link findEncoder} gives it
   * @param part    where it writes
   * @param target  what the file will be called, for messages
   */
  constructor(shape: VideoShape, encoder: readonly [string, ...string[]], part: string, target: string) {
    this.#target = target
    this.#child = spawn('ffmpeg', argsOf(shape, encoder, part), { stdio: ['pipe', 'ignore', 'pipe'] })
    this.#child.stderr?.on('data', text => {
      this.#said = `${this.#said}${text}`.slice(-2000)
    })
    // A pipe that breaks is told by how the program ends.
    this.#child.stdin?.on('error', () => undefined)
    this.#ended = new Promise(resolve => {
      this.#child.once('error', () => resolve(null))
      this.#child.once('close', code => resolve(code))
    })
  }

  /** Takes one frame; resolves when there is room for the next. */
  async add(frame: Uint8Array): Promise<void> {
    const { stdin } = this.#child
    if (stdin === null || !stdin.writable) throw await this.#failure()
    if (stdin.write(frame)) return
    await Promise.race([once(stdin, 'drain').catch(() => undefined), this.#ended])
    if (!stdin.writable) throw await this.#failure()
  }

  /** No more frames: resolves once the file is whole. */
  async end(): Promise<void> {
    this.#child.stdin?.end()
    if ((await this.#ended) !== 0) throw await this.#failure()
  }

  async abandon(): Promise<void> {
    this.#child.kill('SIGKILL')
    await this.#ended
  }

  async #failure(): Promise<BadInput> {
    const code = await this.#ended
    if (/no space left/i.test(this.#said))
      return unwritable(this.#target, Object.assign(new Error(this.#said), { code: 'ENOSPC' }))
    const last = this.#said.trim().split('\n').at(-1) ?? ''
    return new BadInput(
      'encoder-failed',
      basename(this.#target),
      'ffmpeg',
      `it gave up (${code ?? 'it could not be started'})${last === '' ? '' : `: ${printable(last)}`}`,
      'Try another size or kind of file, or another build of ffmpeg',
    )
  }
}

/**
 * 4:2:0, limited range, BT.709 primaries and matrix with the sRGB curve, and all of it said in the file: what players
 * take. Source of the words: ITU-T H.273, tables 2 to 4.
 */
function argsOf(
  { kind, width, height, rate, bitrate, clear }: VideoShape,
  [encoder, ...options]: readonly [string, ...string[]],
  part: string,
): readonly string[] {
  const pixels = clear ? 'yuva420p' : 'yuv420p'
  return [
    ...['-hide_banner', '-loglevel', 'error', '-y'],
    ...['-f', 'rawvideo', '-pixel_format', clear ? 'rgba' : 'rgb24', '-video_size', `${width}x${height}`],
    ...['-framerate', String(rate), '-i', 'pipe:0'],
    ...[
      '-vf',
      `scale=out_color_matrix=bt709:out_range=tv:flags=accurate_rnd+full_chroma_int,format=${pixels}`,
    ],
    ...['-c:v', encoder, '-b:v', String(bitrate), ...options],
    ...[
      '-colorspace',
      'bt709',
      '-color_primaries',
      'bt709',
      '-color_trc',
      'iec61966-2-1',
      '-color_range',
      'tv',
    ],
    // Alternate reference frames cannot carry alpha beside them.
    ...(clear ? ['-auto-alt-ref', '0'] : []),
    ...['-map_metadata', '-1', '-fflags', '+bitexact', '-flags:v', '+bitexact'],
    ...(kind === 'mp4' ? ['-movflags', '+faststart'] : []),
    ...['-f', kind, `file:${part}`],
  ]
}

/** Words of another program as one line of a terminal, which must not obey it. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
const printable = (text: string): string => text.replace(/[\u0000-\u001f\u007f-\u009f]+/g, ' ')
