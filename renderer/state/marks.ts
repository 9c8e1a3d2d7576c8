import type { BoxMm } from '../../core/checks/finding.ts'
import type { MarkedArea, MarkKind } from '../../core/checks/marked.ts'
import { boundsOf, type PointMm } from '../../core/effects/outline.ts'
import { putMark } from '../../core/job/edit-checks.ts'
import type { Job } from '../../core/job/job.ts'
import { type DrawTool, inView, type State } from './state.ts'
import { decide } from './steps.ts'

/** What each kind is called, and what an area of it is: a part of a sentence. */
export const markWords: Readonly<Record<MarkKind, { readonly title: string; readonly says: string }>> = {
  text: { title: 'Text', says: 'is to be read, though the art does not hold it as type' },
  code: { title: 'Code', says: 'is to be scanned' },
  'brand-colour': { title: 'Brand colour', says: 'must look the same on foil as on board' },
  plain: {
    title: 'Keep clear',
    says: 'stays free of print, varnish, holography, folds and glue; white may lie there',
  },
}

/** Begins to draw an area for the checks; the sheet makes room for it. */
export const startMarking = (state: State, marking: MarkKind, drawing: DrawTool): State =>
  inView(state, { marking, drawing, sheet: null, shown: null, spot: null, card: null })

/** The drawn shape becomes a marked area; a rectangle stays one, so that its sides can be typed. */
export function markDrawn(state: State, ring: readonly PointMm[]): State {
  const { marking, drawing } = state.view
  const box = marking === null ? null : boundsOf({ rings: [ring] })
  if (marking === null || box === null) return stopDrawing(state)
  const shape: MarkedArea['shape'] =
    drawing === 'rectangle' ? { kind: 'box', box } : { kind: 'outline', rings: [ring] }
  return stopDrawing(addMark(state, marking, shape))
}

/** An area in the middle of the panel, a third of it wide: for who does not draw by hand. */
export function markMiddle(state: State, kind: MarkKind): State {
  if (state.job === null) return state
  const { widthMm, heightMm } = state.job.panel
  const box: BoxMm = {
    leftMm: hundredths(widthMm / 3),
    bottomMm: hundredths(heightMm / 3),
    rightMm: hundredths((2 * widthMm) / 3),
    topMm: hundredths((2 * heightMm) / 3),
  }
  return addMark(state, kind, { kind: 'box', box })
}

/** Drawing ends; who marked an area for the checks is back at them. */
export const stopDrawing = (state: State): State =>
  inView(state, {
    drawing: null,
    marking: null,
    ...(state.view.marking === null
      ? {}
      : { sheet: 'checks' as const, checks: { ...state.view.checks, section: 'marks' as const } }),
  })

function addMark(state: State, kind: MarkKind, shape: MarkedArea['shape']): State {
  if (state.job === null) return state
  return decide(state, putMark({ name: freshMark(state.job, kind), kind, shape }))
}

/** What a further area of a kind is called until somebody names it. */
function freshMark({ marked }: Pick<Job, 'marked'>, kind: MarkKind): string {
  const { title } = markWords[kind]
  let n = 1
  while (marked.some(one => one.name === `${title} ${n}`)) n++
  return `${title} ${n}`
}

const hundredths = (mm: number): number => Math.round(100 * mm) / 100
