import type { PointerEvent } from 'react'
import type { PointMm } from '../../core/effects/outline.ts'
import { type Look, spotUnder } from '../stage/place.ts'

/** Place of the panel under the pointer, mm; null beside it. @param box whose corner the look counts from */
export function placeUnder(look: Look, box: Element | null, event: PointerEvent): PointMm | null {
  const rect = box?.getBoundingClientRect()
  if (rect === undefined) return null
  const spot = spotUnder(look, event.clientX - rect.left, event.clientY - rect.top)
  return spot === null ? null : [round(spot.xMm), round(spot.yMm)]
}

/** To a hundredth of a millimetre: a hand is not finer. */
export const round = (mm: number): number => Math.round(mm * 100) / 100

/** A mark is taken hold of within this, CSS pixels: 24 across (WCAG 2.5.8). */
export const fingerReach = 12

/** Steps of the arrow keys: right and up count as more. */
export const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}

/** What makes a mark over the picture a thing to be dragged about the panel. */
export function dragging(look: Look, onMove: (to: PointMm) => void, onSettle: () => void) {
  const boxOf = (event: PointerEvent<SVGElement>) => event.currentTarget.ownerSVGElement
  return {
    onPointerDown: (event: PointerEvent<SVGElement>) => {
      if (event.button !== 0) return
      event.stopPropagation()
      event.currentTarget.setPointerCapture(event.pointerId)
    },
    onPointerMove: (event: PointerEvent<SVGElement>) => {
      event.stopPropagation()
      if (!event.currentTarget.hasPointerCapture(event.pointerId)) return
      const place = placeUnder(look, boxOf(event), event)
      if (place !== null) onMove(place)
    },
    onPointerUp: (event: PointerEvent<SVGElement>) => {
      event.stopPropagation()
      onSettle()
    },
  }
}
