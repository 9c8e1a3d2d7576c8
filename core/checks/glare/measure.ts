import { checkCancelled, type Task } from '../../base/task.ts'
import type { PanelPose } from '../../reference/scene.ts'
import { type LightOf, lookAt } from './look.ts'
import type { Frame, Subject, SubjectFace } from './subject.ts'

/** What of a frame the draws are to agree on. */
export type Measured = 'luminance' | 'chroma'

/** Pixels up to which all are taken. */
const fewPixels = 2500
/** Places of a draw, and how many draws there are at most. */
const placesADraw = 400
const mostDraws = { luminance: 24, chroma: 12 } as const
/** Those that ends of climbs are told apart by. */
const judgedDraws = 2
/** Fewer than this do not tell how far they lie apart. */
const leastDraws = 3
/** Deviation of the mean of the draws, over it, that is good enough: 19 in 20 means are then within 1 %, of chroma 2 %. */
const goodEnough = { luminance: 0.005, chroma: 0.01 } as const

export interface Measurer {
  /** By some draws, enough to tell ends of climbs apart; null out of sight. */
  readonly judged: (pose: PanelPose, light: LightOf) => Frame | null
  readonly measured: (found: Frame, what: Measured) => Frame
}

/**
 * Measures frames of a subject: by all of its pixels where they are few, otherwise by draws of places until they agree.
 * @param glare Y from which a site has no colour to enjoy
 */
export function measurer(subject: Subject, glare: number, task?: Task): Measurer {
  const few = subject.pixels <= fewPixels
  const draws: (readonly SubjectFace[])[] = []
  const look = (pose: PanelPose, draw: number, light: LightOf): Frame | null => {
    checkCancelled(task)
    draws[draw] ??= few ? subject.faces(fewPixels) : subject.faces(placesADraw, draw)
    return lookAt(subject, draws[draw], pose, glare, light)
  }
  return {
    judged: (pose, light) => {
      const frames = Array.from({ length: few ? 1 : judgedDraws }, (_, i) => look(pose, i + 1, light))
      return meanOf(
        pose,
        frames.flatMap(frame => frame ?? []),
      )
    },
    measured: (found, what) => {
      if (few) return look(found.pose, 1, 'all') ?? found
      switch (what) {
        case 'luminance':
          return byLight(found, look)
        case 'chroma':
          return byChroma(found, look)
      }
    },
  }
}

type Look = (pose: PanelPose, draw: number, light: LightOf) => Frame | null

/** Lamps and room add up. The room's light takes longest to sum and varies least, so it gets no more draws than it needs. */
function byLight(found: Frame, look: Look): Frame {
  const lamps: number[] = []
  const room: number[] = []
  for (let draw = 1; draw <= mostDraws.luminance; draw++) {
    const frame = look(found.pose, draw, 'lamps')
    if (frame === null) continue
    lamps.push(frame.luminance)
    if (room.length < leastDraws || deviation(room) > deviation(lamps) / 2)
      room.push(look(found.pose, draw, 'room')!.luminance)
    const off = Math.hypot(deviation(lamps), deviation(room))
    if (off <= goodEnough.luminance * (mean(lamps) + mean(room))) break
  }
  if (lamps.length === 0) return found
  const { chroma } = look(found.pose, 1, 'all') ?? found
  return { pose: found.pose, luminance: mean(lamps) + mean(room), chroma }
}

function byChroma(found: Frame, look: Look): Frame {
  const frames: Frame[] = []
  for (let draw = 1; draw <= mostDraws.chroma; draw++) {
    const frame = look(found.pose, draw, 'all')
    if (frame !== null) frames.push(frame)
    const chroma = frames.map(one => one.chroma)
    if (deviation(chroma) <= goodEnough.chroma * mean(chroma)) break
  }
  return meanOf(found.pose, frames) ?? found
}

function meanOf(pose: PanelPose, frames: readonly Frame[]): Frame | null {
  if (frames.length === 0) return null
  return {
    pose,
    luminance: mean(frames.map(({ luminance }) => luminance)),
    chroma: mean(frames.map(({ chroma }) => chroma)),
  }
}

/** Of the mean of some values; too few do not tell. */
function deviation(values: readonly number[]): number {
  const n = values.length
  if (n < leastDraws) return Number.POSITIVE_INFINITY
  const middle = mean(values)
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (n - 1) / n)
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length
