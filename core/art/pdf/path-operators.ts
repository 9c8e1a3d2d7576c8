import type { FillRule } from '../ink/mark.ts'
import type { Operand } from './content.ts'
import { type ContentRun, numbers } from './content-run.ts'
import { fillAndStroke, fillPath, strokePath } from './paint.ts'

/** Operators that draw, paint and clip paths (ISO 32000-2, 8.5). */
export const pathOperators: readonly (readonly [
  string,
  (run: ContentRun, operands: readonly Operand[]) => void,
])[] = [
  ['m', (run, operands) => move(run, operands)],
  ['l', (run, operands) => line(run, operands)],
  ['c', (run, operands) => curve(run, numbers(operands, 6))],
  ['v', (run, operands) => curveFrom(run, numbers(operands, 4))],
  ['y', (run, operands) => curveTo(run, numbers(operands, 4))],
  ['h', run => close(run)],
  ['re', (run, operands) => rectangle(run, operands)],
  ['S', run => paint(run, null, true)],
  ['s', run => closeAnd(run, null, true)],
  ['f', run => paint(run, 'nonzero', false)],
  ['F', run => paint(run, 'nonzero', false)],
  ['f*', run => paint(run, 'evenodd', false)],
  ['B', run => paint(run, 'nonzero', true)],
  ['B*', run => paint(run, 'evenodd', true)],
  ['b', run => closeAnd(run, 'nonzero', true)],
  ['b*', run => closeAnd(run, 'evenodd', true)],
  ['n', run => paint(run, null, false)],
  ['W', run => clipNext(run, 'nonzero')],
  ['W*', run => clipNext(run, 'evenodd')],
]

function move(run: ContentRun, operands: readonly Operand[]): void {
  const [x, y] = numbers(operands, 2) ?? []
  if (x === undefined || y === undefined) return
  run.path.move(x, y)
  run.pen = [x, y]
  run.start = run.pen
}

function line(run: ContentRun, operands: readonly Operand[]): void {
  const [x, y] = numbers(operands, 2) ?? []
  if (x === undefined || y === undefined) return
  if (run.pen === null) {
    move(run, operands)
    return
  }
  run.path.line(x, y)
  run.pen = [x, y]
}

function curve(run: ContentRun, points: readonly number[] | null): void {
  const [x1, y1, x2, y2, x, y] = points ?? []
  if (x1 === undefined || y1 === undefined || x2 === undefined) return
  if (y2 === undefined || x === undefined || y === undefined) return
  if (run.pen === null) {
    run.path.move(x1, y1)
    run.start = [x1, y1]
  }
  run.path.curve(x1, y1, x2, y2, x, y)
  run.pen = [x, y]
}

function curveFrom(run: ContentRun, points: readonly number[] | null): void {
  const [x2, y2] = points ?? []
  if (points === null || x2 === undefined || y2 === undefined) return
  curve(run, [...(run.pen ?? [x2, y2]), ...points])
}

function curveTo(run: ContentRun, points: readonly number[] | null): void {
  if (points !== null) curve(run, [...points, ...points.slice(2)])
}

function close(run: ContentRun): void {
  if (run.pen === null) return
  run.path.close()
  run.pen = run.start
}

function rectangle(run: ContentRun, operands: readonly Operand[]): void {
  const [x, y, width, height] = numbers(operands, 4) ?? []
  if (x === undefined || y === undefined || width === undefined || height === undefined) return
  run.path.move(x, y)
  run.path.line(x + width, y)
  run.path.line(x + width, y + height)
  run.path.line(x, y + height)
  run.path.close()
  run.pen = [x, y]
  run.start = run.pen
}

function clipNext(run: ContentRun, rule: FillRule): void {
  run.nextClip = rule
}

function paint(run: ContentRun, fill: FillRule | null, stroke: boolean): void {
  const path = run.takePath()
  const { nextClip } = run
  run.nextClip = null
  const onPage = fill === null && nextClip === null ? null : run.onPage(path)
  if (fill !== null && onPage !== null && stroke) fillAndStroke(run, onPage, fill, path, null)
  else if (fill !== null && onPage !== null) fillPath(run, onPage, fill, null)
  else if (stroke) strokePath(run, path, null)
  if (nextClip !== null && onPage !== null) run.clipBy(onPage, nextClip)
}

function closeAnd(run: ContentRun, fill: FillRule | null, stroke: boolean): void {
  close(run)
  paint(run, fill, stroke)
}
