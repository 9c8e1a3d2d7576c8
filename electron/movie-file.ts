import { gifEnd } from '../core/base/gif.ts'
import { type Animation, ApngStream } from '../core/export/apng.ts'
import type { MovieKind } from '../core/job/movie.ts'
import { findEncoder, VideoEncoder, type VideoShape } from './ffmpeg.ts'
import { WholeFile } from './whole-file.ts'

/** What a movie file may be, by the ending of its name. */
export const movieKinds = ['webm', 'mp4', 'gif', 'png'] as const satisfies readonly MovieKind[]

/** Takes a movie's frames one after another; the file is there once it is whole. */
export interface MovieFile {
  /** What encodes it. */
  readonly encoder: string
  /** A frame as its kind wants it: RGB or RGBA for WebM and MP4, packed by a worker for the others. */
  add(frame: Uint8Array): Promise<void>
  /** Gives the file's bytes. */
  finish(): Promise<number>
  /** Nothing is left of it; also after a failure. */
  abandon(): Promise<void>
}

/** Opens a movie for writing, before any frame is made: what is missing, or may not be written, is said at once. */
export async function openMovie(
  path: string,
  kind: MovieKind,
  shape: Animation & Omit<VideoShape, 'kind'>,
): Promise<MovieFile> {
  switch (kind) {
    case 'webm':
    case 'mp4':
      return openVideo(path, { ...shape, kind })
    case 'gif': {
      const file = await WholeFile.open(path)
      return joinedIn(
        file,
        'gif',
        frame => frame,
        () => gifEnd,
      )
    }
    case 'png': {
      const file = await WholeFile.open(path)
      const stream = new ApngStream(shape)
      return joinedIn(
        file,
        'animated PNG',
        frame => stream.add(frame),
        () => stream.end(),
      )
    }
  }
}

async function openVideo(path: string, shape: VideoShape): Promise<MovieFile> {
  const found = findEncoder(shape)
  const file = await WholeFile.open(path)
  const encoder = new VideoEncoder(shape, found, file.partPath, path)
  return {
    encoder: found[0],
    add: frame => encoder.add(frame),
    async finish() {
      await encoder.end()
      return file.finish()
    },
    async abandon() {
      await encoder.abandon()
      await file.abandon()
    },
  }
}

function joinedIn(
  file: WholeFile,
  encoder: string,
  join: (frame: Uint8Array) => Uint8Array,
  end: () => Uint8Array,
): MovieFile {
  return {
    encoder,
    add: frame => file.write(join(frame)),
    async finish() {
      await file.write(end())
      return file.finish()
    },
    abandon: () => file.abandon(),
  }
}
