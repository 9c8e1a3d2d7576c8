import { useEffect, useLayoutEffect, useRef, useState } from 'react'
import { ringsPath } from '../../core/base/path-data.ts'
import type { Zoom } from '../../core/reference/camera.ts'
import { type Look, pixelOver } from '../stage/place.ts'
import type { ShownPlace } from '../state/state.ts'
import { coveredPx } from './covered.ts'
import { aroundBox, zoomOn } from './zoom-on.ts'

interface Props {
  readonly look: Look
  readonly shown: ShownPlace
  readonly onZoom: (zoom: Zoom) => void
  readonly onBack: () => void
  readonly onStay: () => void
  /** Lays a folded carton flat; null where nothing is folded. */
  readonly onFlat: (() => void) | null
}

/** A box of less than this is outlined as large as this, CSS pixels: a hair cannot be seen. */
const leastPx = 14
/** Points along a side: near the eye a straight side is bent by no crease and stays straight. */
const steps = 8

/** Over the picture: the place that a finding speaks of, with the way back to where one was. */
export function ShownOver({ look, shown, onZoom, onBack, onStay, onFlat }: Props) {
  const bar = useRef<HTMLParagraphElement>(null)
  const [covered, setCovered] = useState(0)
  useLayoutEffect(() => {
    setCovered(coveredPx(bar.current))
  })
  // biome-ignore lint/correctness/useExhaustiveDependencies: looked at once for each place, then the hand goes on
  useEffect(() => {
    const zoom = zoomOn(look, shown.box, coveredPx(bar.current))
    if (zoom !== null) onZoom(zoom)
  }, [shown, onFlat === null])
  const ring = widened(
    aroundBox(shown.box, steps).flatMap(([x, y]) => {
      const pixel = pixelOver(look, x, y)
      return pixel === null ? [] : [pixel]
    }),
  )
  const hidden = ring.length < 3
  const path = ringsPath([ring])
  return (
    <>
      {hidden ? null : (
        <svg className="draw-over shown-over" width={look.width} height={look.height} aria-hidden="true">
          <path className="draw-under" d={path} />
          <path className="draw-line" d={path} />
        </svg>
      )}
      <p
        ref={bar}
        className="draw-bar shown-bar"
        style={{ left: (look.width - covered) / 2, maxWidth: look.width - covered - 16 }}
        onPointerDown={event => event.stopPropagation()}
        onPointerUp={event => event.stopPropagation()}
        onDoubleClick={event => event.stopPropagation()}
      >
        <span role="status">
          {shown.title}
          {hidden ? ': the folded carton hides this place' : ''}
        </span>
        {hidden && onFlat !== null ? (
          <button type="button" className="plain small" onClick={onFlat}>
            Lay it flat
          </button>
        ) : null}
        <button type="button" className="plain small" onClick={onBack}>
          Back to where I was
        </button>
        <button type="button" className="plain small" onClick={onStay}>
          Stay here
        </button>
      </p>
    </>
  )
}

type Pixel = readonly [number, number]

/** The ring, or a square around one that is too small to be seen. */
function widened(ring: readonly Pixel[]): readonly Pixel[] {
  if (ring.length < 3) return ring
  const xs = ring.map(([x]) => x)
  const ys = ring.map(([, y]) => y)
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  if (right - left >= leastPx && bottom - top >= leastPx) return ring
  const [x, y] = [(left + right) / 2, (top + bottom) / 2]
  const [dx, dy] = [Math.max(right - left, leastPx) / 2, Math.max(bottom - top, leastPx) / 2]
  return [
    [x - dx, y - dy],
    [x + dx, y - dy],
    [x + dx, y + dy],
    [x - dx, y + dy],
  ]
}
