import { drawnPpiRange } from './usual.ts'

/** Pixels of the finest page; more than any carton needs. */
const mostPixels = 2 ** 29

/** Pixels of a page; its lower left corner is that of the lowest row's first pixel. */
export interface PageSize {
  readonly width: number
  readonly height: number
}

/** A page of that size, mm, in pixels of a resolution; at least one each way. */
export function pixelsOf(widthMm: number, heightMm: number, ppi: number): PageSize {
  const [width, height] = [widthMm, heightMm].map(mm => Math.max(1, Math.round((mm * ppi) / 25.4))) as [
    number,
    number,
  ]
  return { width, height }
}

export const isTooLarge = ({ width, height }: PageSize): boolean => width * height > mostPixels

/** The finest resolution that a page of that size, mm, can be painted at: whole pixels on an inch; less than 1 for none. */
export function mostPpiOf(widthMm: number, heightMm: number): number {
  const most = Math.floor(25.4 * Math.sqrt(mostPixels / (widthMm * heightMm)))
  return Math.min(drawnPpiRange[1], most)
}
