import type { FillMark, Mark } from '../ink/mark.ts'
import type { ContentRun } from './content-run.ts'

/** Where the marks of a text object begin. Those of glyphs that are contents of their own are laid down one by one. */
export function beginText(run: ContentRun): void {
  run.textFrom = run.out.length
}

/**
 * Type of one text object counts as one object: where glyphs lie over one another the later one takes the place of the
 * earlier (text knockout, ISO 32000-2, 9.3.8). That shows where they are not opaque, or in a group that knocks out.
 */
export function endText(run: ContentRun): void {
  const from = run.textFrom
  run.textFrom = null
  if (from === null || !run.state.textKnockout || run.out.length < from + 2) return
  const marks = run.out.slice(from)
  if (!run.setting.inKnockout && (marks.every(isOpaque) || lieApart(marks))) return
  run.out.length = from
  run.add({
    kind: 'group',
    marks,
    isolated: false,
    knockout: true,
    clip: null,
    alpha: 1,
    blend: 'normal',
    softMask: null,
    overprint: false,
    layer: null,
  })
}

const isOpaque = (mark: Mark): boolean =>
  mark.kind !== 'group' && mark.alpha === 1 && mark.blend === 'normal' && mark.softMask === null

/** More are not held against each other. */
const mostCompared = 400

/** Whether no two of these can touch. */
function lieApart(marks: readonly Mark[]): boolean {
  if (marks.length > mostCompared || !marks.every(mark => mark.kind === 'fill')) return false
  const boxes = marks.map(boxOf)
  return boxes.every((a, i) =>
    boxes.slice(i + 1).every(b => a[2] < b[0] || b[2] < a[0] || a[3] < b[1] || b[3] < a[1]),
  )
}

function boxOf({ path: { points } }: FillMark): readonly [number, number, number, number] {
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity]
  for (let i = 0; i + 1 < points.length; i += 2) {
    left = Math.min(left, points[i]!)
    right = Math.max(right, points[i]!)
    bottom = Math.min(bottom, points[i + 1]!)
    top = Math.max(top, points[i + 1]!)
  }
  return [left, bottom, right, top]
}
