import { checkCancelled, type Task } from '../../base/task.ts'
import { type Frame, lookAt, type Subject, type SubjectFace } from './subject.ts'

/** Places of a draw, and how many draws there are at most. */
const placesADraw = 2500
const mostDraws = 12
/** Fewer than this do not tell how far they lie apart. */
const leastDraws = 3
/** Deviation of the mean of the draws, over it, that is good enough: 19 in 20 means are then within 1 %. */
const goodEnough = 0.005

/**
 * Measures frames of a subject: by all of its pixels where they are few, otherwise by draws of 2500 until they agree.
 * @param glare Y from which a site has no colour to enjoy
 */
export function measurer(subject: Subject, glare: number, task?: Task): (frame: Frame) => Frame {
  const draws: (readonly SubjectFace[])[] = []
  const most = subject.pixels <= placesADraw ? 1 : mostDraws
  return found => {
    const frames: Frame[] = []
    for (let draw = 0; draw < most; draw++) {
      checkCancelled(task)
      draws[draw] ??= subject.faces(placesADraw, draw)
      const frame = lookAt(subject, draws[draw]!, found.pose, glare)
      if (frame !== null) frames.push(frame)
      if (agree(frames)) break
    }
    if (frames.length === 0) return found
    return {
      pose: found.pose,
      luminance: mean(frames.map(({ luminance }) => luminance)),
      chroma: mean(frames.map(({ chroma }) => chroma)),
    }
  }
}

function agree(frames: readonly Frame[]): boolean {
  const n = frames.length
  if (n < leastDraws) return false
  const values = frames.map(({ luminance }) => luminance)
  const middle = mean(values)
  const variance = values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (n - 1)
  return Math.sqrt(variance / n) <= goodEnough * middle
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length
