import { BadInput } from '../base/finding.ts'
import type { LampPath } from './job.ts'
import { frameTimes, isClosed, pathLength } from './path.ts'

/** Most frames of one run: more than an hour at 25 a second is a slip of the finger. */
export const mostFrames = 99_999

/** Frames a second of a movie. */
export const rateRange = [1, 120] as const
export const usualRate = 25
/** A GIF counts hundredths of a second, and readers slow down what shows for less than two of them. */
export const mostGifRate = 50

/** A lamp path as a movie goes along it. */
export interface MoviePlan {
  /** The path at the movie's own pace: the one whose flashes count. */
  readonly path: LampPath
  /** Moment of each frame on that path, s. */
  readonly times: readonly number[]
  /** Frames a second. */
  readonly rate: number
  readonly seconds: number
  /** The frame after the last is the first: a player may go round for ever. Else the movie is played once. */
  readonly loops: boolean
}

/**
 * Frames a path needs to be shown at `rate`, so that frame i shows i / rate s of it. A closed loop leaves out its end,
 * which is its beginning again. Throws BadInput for a movie without a length, and for too many frames.
 * @param seconds how long the movie is; null: as long as the path, at its own pace
 * @param name    of the job, for messages
 */
export function planMovie(wanted: LampPath, rate: number, seconds: number | null, name: string): MoviePlan {
  const own = pathLength(wanted)
  if (own === 0 && seconds === null)
    throw new BadInput(
      'no-length',
      name,
      `path "${wanted.name}"`,
      'nothing moves on it, so the movie has no length of its own',
      'Say how long it is to be',
    )
  const loops = isClosed(wanted) && own > 0
  const count = Math.max(1, Math.round((seconds ?? own) * rate))
  if (count > mostFrames)
    throw new BadInput(
      'too-many-frames',
      name,
      `path "${wanted.name}"`,
      `${Math.round(seconds ?? own)} s at ${rate} frames a second are ${count} frames, and ${mostFrames} are the most`,
      'Make it shorter, or choose fewer frames a second',
    )
  const path = paced(wanted, (loops ? count : count - 1) / rate)
  return { path, times: frameTimes(path, count), rate, seconds: count / rate, loops }
}

/** The same way in another time; one that stands still is left alone. */
function paced(path: LampPath, lengthS: number): LampPath {
  const own = pathLength(path)
  if (own === 0 || lengthS === 0 || own === lengthS) return path
  return { ...path, keys: path.keys.map(key => ({ ...key, timeS: (key.timeS / own) * lengthS })) }
}

/** Bits a second for foil, whose every pixel changes: 0.2 bit a pixel and frame, at least half a megabit. */
export function usualBitrate(width: number, height: number, rate: number): number {
  return Math.max(500_000, Math.round((0.2 * width * height * rate) / 10_000) * 10_000)
}

/** Kinds of file that a movie may be; `png` is animated. */
export type MovieKind = 'webm' | 'mp4' | 'gif' | 'png'

export interface MovieShape {
  /** Pixels. */
  readonly width: number
  readonly height: number
  /** Frames a second. */
  readonly rate: number
  /** Nothing lies around the carton. */
  readonly clear: boolean
}

/** Throws BadInput for a movie that its kind of file cannot hold, with what can. */
export function checkMovie(kind: MovieKind, { width, height, rate, clear }: MovieShape, name: string): void {
  const refuse = (where: string, problem: string, fix: string): never => {
    throw new BadInput('movie-unfit', name, where, problem, fix)
  }
  if (![width, height].every(side => Number.isInteger(side) && side >= 2))
    refuse('size', `expected whole pixels from 2, got ${width} × ${height}`, 'Choose another size')
  if (!Number.isInteger(rate) || rate < rateRange[0] || rate > rateRange[1])
    refuse(
      'rate',
      `expected ${rateRange[0]} to ${rateRange[1]} frames a second, got ${rate}`,
      'Choose another rate',
    )
  if (kind === 'gif' && rate > mostGifRate)
    refuse('rate', `a GIF shows at most ${mostGifRate} frames a second, got ${rate}`, 'Choose fewer, or WebM')
  if (kind === 'mp4' && clear)
    refuse('background', 'MP4 has no transparency', 'Choose a colour, or WebM, GIF or animated PNG')
  if (kind === 'mp4' && (width % 2 === 1 || height % 2 === 1))
    refuse('size', `MP4 wants even sides, got ${width} × ${height}`, 'Make it a pixel larger, or choose WebM')
}

/** Name of a frame, counted from 0, among as many: names sort in the order of the frames. */
export function frameName(index: number, count: number): string {
  return `frame-${String(index + 1).padStart(Math.max(4, String(count).length), '0')}.png`
}
