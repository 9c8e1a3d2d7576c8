import { either, type Rings, thinned } from '../../base/polygons.ts'
import type { Task } from '../../base/task.ts'
import { ContourTracer } from './contours.ts'
import type { FinishedSize } from './frame.ts'
import { rowsOf } from './group-rows.ts'
import type { RowPicture } from './row-picture.ts'

/** The edges of pictures, with what is followed already. */
export async function joinedRings(
  first: Rings,
  pictures: readonly RowPicture[],
  size: FinishedSize,
  task: Task | undefined,
): Promise<Rings> {
  let rings = first
  for (const picture of pictures) rings = eitherOf(rings, await tracedRings(picture, size, task))
  return rings
}

export const eitherOf = (rings: Rings, others: Rings): Rings =>
  rings.length === 0 ? others : others.length === 0 ? rings : either(rings, others)

/** Corners nearer than this part of a pixel to a straight edge are none. */
const evenPart = 0.06

async function tracedRings(
  picture: RowPicture,
  { widthMm, heightMm }: FinishedSize,
  task: Task | undefined,
): Promise<Rings> {
  const pixel = [widthMm / picture.width, heightMm / picture.height] as const
  const tracer = new ContourTracer(picture.width, pixel, heightMm)
  for await (const row of rowsOf(picture, task)) tracer.push(row)
  return thinned(tracer.finish(), evenPart * Math.min(...pixel))
}
