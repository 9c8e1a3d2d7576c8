import { checkCancelled, type Task } from '../../base/task.ts'
import type { BoxMm } from '../finding.ts'
import { type TypeSize, typeSize } from '../type-size.ts'
import { type Piece, piecesOf } from './letters.ts'
import { type GlyphRaster, type GlyphSource, partsOf, ppiFor } from './raster.ts'
import { addWidths, type StrokeWidths, strokeWidths } from './strokes.ts'

export interface TypeMeasure {
  readonly size: TypeSize
  readonly strokes: StrokeWidths
}

/**
 * Size and line weight of type, from its glyphs at 1200 ppi at least; null where there are none in the box.
 * @param text null where it is not known
 */
export function measureType(
  glyphs: GlyphSource,
  box: BoxMm,
  text: string | null,
  xRatio: number,
  task?: Task,
): TypeMeasure | null {
  const widths: number[] = []
  const size = measureSize(glyphs, box, text, xRatio, task, raster => addWidths(raster, widths))
  const strokes = strokeWidths(widths)
  return size === null || strokes === null ? null : { size, strokes }
}

/** Size alone. @param visit sees each part of the type as it is drawn */
export function measureSize(
  glyphs: GlyphSource,
  box: BoxMm,
  text: string | null,
  xRatio: number,
  task?: Task,
  visit?: (raster: GlyphRaster) => void,
): TypeSize | null {
  const pieces: Piece[] = []
  for (const part of partsOf(box)) {
    checkCancelled(task)
    const raster = glyphs.raster(part, ppiFor(glyphs.kind, part))
    // A letter that two parts share is whole in neither.
    const whole = (one: Piece) =>
      !(one.leftMm <= part.leftMm && part.leftMm > box.leftMm) &&
      !(one.rightMm >= part.rightMm && part.rightMm < box.rightMm) &&
      !(one.bottomMm <= part.bottomMm && part.bottomMm > box.bottomMm) &&
      !(one.topMm >= part.topMm && part.topMm < box.topMm)
    for (const one of piecesOf(raster)) if (whole(one)) pieces.push(one)
    visit?.(raster)
  }
  return typeSize(pieces, text, xRatio)
}
