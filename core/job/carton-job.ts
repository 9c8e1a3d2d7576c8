import { BadInput } from '../base/finding.ts'
import { boxOf } from '../carton/outline.ts'
import { movedMark } from '../checks/marked.ts'
import { type SizedForm, tenth } from './carton.ts'
import type { Job, Pin } from './job.ts'
import { blankJob } from './new.ts'
import { blankOf } from './solid.ts'

/**
 * A fresh job for a carton with no art yet: its panel is the whole blank, so that effects and white may lie on any side.
 * Throws BadInput for a carton that cannot be made.
 * @param caliperMm thickness of the board, mm
 */
export function cartonJob(form: SizedForm, caliperMm: number): Job {
  const bare = blankJob(1, 1)
  const board = { ...bare.board, caliperMm }
  const carton: Job['carton'] = { form, fold: { amount: 1, own: {} }, arts: [wholeBlank] }
  const blank = blankOf({ carton, board })
  if (blank instanceof BadInput) throw blank
  const { widthMm, heightMm } = blank!
  return { ...blankJob(tenth(widthMm), tenth(heightMm)), board, carton }
}

const wholeBlank = { panel: null, xMm: 0, yMm: 0 } as const

/** Art that covers at least so much of the blank's width and height is drawn by the die. */
const byTheDie = 0.9

/**
 * Gives the first art of a job its own size, and its place on the carton that was there before it: over the blank where
 * it is as large as that, else on the front, in the middle of either. What was drawn and pinned stays where it was on
 * the board. A flat job keeps its panel.
 */
export const layOnCarton =
  (art: Job['panel']) =>
  (job: Job): Job => {
    const blank = blankOf(job)
    const [was] = job.carton?.arts ?? []
    if (job.carton === null || was === undefined || blank === null || blank instanceof BadInput) return job
    const cornerOf = (name: string | null) => {
      const panel = blank.panels.find(one => one.name === name)
      return panel === undefined ? ([0, 0, blank.widthMm, blank.heightMm] as const) : boxOf(panel.outline)
    }
    const whole = art.widthMm >= byTheDie * blank.widthMm && art.heightMm >= byTheDie * blank.heightMm
    const panel = whole || !blank.panels.some(({ name }) => name === 'front') ? null : 'front'
    const [left, bottom, right, top] = cornerOf(panel)
    const place = {
      panel,
      xMm: (right - left - art.widthMm) / 2,
      yMm: (top - bottom - art.heightMm) / 2,
    }
    const before = cornerOf(was.panel)
    const dx = before[0] + was.xMm - left - place.xMm
    const dy = before[1] + was.yMm - bottom - place.yMm
    return {
      ...job,
      panel: art,
      carton: { ...job.carton, arts: [place] },
      outlines: job.outlines.map(outline => ({
        ...outline,
        rings: outline.rings.map(ring => ring.map(([x, y]) => [x + dx, y + dy] as const)),
      })),
      marked: job.marked.map(area => movedMark(area, dx, dy)),
      pins: job.pins.map((pin): Pin => ({ ...pin, xMm: pin.xMm + dx, yMm: pin.yMm + dy })),
    }
  }
