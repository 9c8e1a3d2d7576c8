import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import { linePath, ringsPath } from '../../core/base/path-data.ts'
import { splitSide, withoutPoint, withPoint } from '../../core/effects/draw.ts'
import type { Outline, PointMm } from '../../core/effects/outline.ts'
import { type Look, pixelOver } from '../stage/place.ts'
import { drawn } from '../state/outlines.ts'
import type { DrawTool } from '../state/state.ts'
import { type Arrow, ArrowHandle } from './ArrowHandle.tsx'
import { CornerHandle } from './CornerHandle.tsx'
import { placeUnder } from './dragging.ts'

interface Props {
  readonly look: Look
  readonly tool: DrawTool | null
  /** The area whose card is open. */
  readonly outline: Outline | null
  readonly arrow: Arrow | null
  readonly onDrawn: (ring: readonly PointMm[]) => void
  readonly onCancel: () => void
  readonly onOutline: (outline: Outline) => void
  readonly onArrow: (deg: number) => void
  readonly onSettle: () => void
}

/** More points than this are not shown one by one. */
const mostHandles = 64
/** Reach of a corner that closes a polygon, CSS pixels: half of what a finger needs. */
const closeReach = 12
/** A drawn shape smaller than this was a click, mm. */
const smallest = 0.5

/** Over the picture: a shape that is being drawn, points of the open area, and the direction of the open effect. */
export function DrawOver(props: Props) {
  const { look, tool, outline, arrow } = props
  const box = useRef<SVGSVGElement>(null)
  const [from, setFrom] = useState<PointMm | null>(null)
  const [to, setTo] = useState<PointMm | null>(null)
  const [corners, setCorners] = useState<readonly PointMm[]>([])
  useEffect(() => {
    setFrom(null)
    setTo(null)
    setCorners([])
    if (tool !== null) box.current?.focus()
  }, [tool])
  if (tool === null && outline === null && arrow === null) return null
  const rubber = tool === null || to === null ? [] : shapeOf(tool, from, to, corners)
  return (
    <>
      <svg
        ref={box}
        className={tool === null ? 'draw-over' : 'draw-over drawing'}
        width={look.width}
        height={look.height}
        role={tool === null ? 'group' : 'application'}
        aria-label={tool === null ? 'Area and direction' : hints[tool]}
        tabIndex={tool === null ? -1 : 0}
        onPointerDown={down}
        onPointerMove={moved}
        onPointerUp={up}
        onDoubleClick={event => {
          if (tool === null) return
          event.stopPropagation()
          finish(corners)
        }}
        onKeyDown={keyed}
      >
        {outline === null || tool !== null ? null : <Shape look={look} rings={outline.rings} />}
        {rubber.length === 0 ? null : <Shape look={look} rings={[rubber]} open={tool === 'polygon'} />}
        {tool !== null || outline === null
          ? null
          : outline.rings.flatMap((ring, r) =>
              ring.length > mostHandles
                ? []
                : ring.map((point, i) => (
                    <CornerHandle
                      // biome-ignore lint/suspicious/noArrayIndexKey: a point is its place in the ring
                      key={`${r} ${i}`}
                      look={look}
                      at={point}
                      label={`Corner ${i + 1} of ${ring.length}`}
                      onMove={next => props.onOutline(withPoint(outline, r, i, next))}
                      onSplit={() => props.onOutline(splitSide(outline, r, i))}
                      onRemove={() => props.onOutline(withoutPoint(outline, r, i))}
                      onSettle={props.onSettle}
                    />
                  )),
            )}
        {tool !== null || arrow === null ? null : (
          <ArrowHandle look={look} arrow={arrow} onTurn={props.onArrow} onSettle={props.onSettle} />
        )}
      </svg>
      {tool === null ? null : (
        <p
          className="draw-bar"
          onPointerDown={event => event.stopPropagation()}
          onPointerUp={event => event.stopPropagation()}
          onDoubleClick={event => event.stopPropagation()}
        >
          {hints[tool]}
          {tool === 'polygon' ? (
            <button
              type="button"
              className="plain small"
              disabled={corners.length < 3}
              onClick={() => finish(corners)}
            >
              Close it
            </button>
          ) : null}
          <button type="button" className="plain small" title="Ends drawing (Esc)" onClick={props.onCancel}>
            Stop drawing
          </button>
        </p>
      )}
    </>
  )

  function under(event: PointerEvent): PointMm | null {
    return placeUnder(look, box.current, event)
  }

  function down(event: PointerEvent): void {
    if (tool === null || event.button !== 0) return
    event.stopPropagation()
    const place = under(event)
    if (place === null) return
    if (tool !== 'polygon') {
      box.current?.setPointerCapture(event.pointerId)
      setFrom(place)
      setTo(place)
      return
    }
    const first = corners[0] && pixelOver(look, ...corners[0])
    const rect = box.current?.getBoundingClientRect()
    const near =
      first && rect
        ? Math.hypot(event.clientX - rect.left - first[0], event.clientY - rect.top - first[1]) < closeReach
        : false
    if (near && corners.length >= 3) finish(corners)
    else setCorners([...corners, place])
  }

  function moved(event: PointerEvent): void {
    if (tool === null) return
    event.stopPropagation()
    const place = under(event)
    if (place !== null) setTo(place)
  }

  function up(event: PointerEvent): void {
    if (tool === null) return
    event.stopPropagation()
    if (tool === 'polygon' || from === null || to === null) return
    const wide = Math.min(Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1])) >= smallest
    if (wide) props.onDrawn(drawn(tool, from, to))
    setFrom(null)
  }

  function finish(points: readonly PointMm[]): void {
    // A double click leaves its corner twice.
    const ring = points.filter((point, i) => {
      const before = points[i - 1]
      return before === undefined || Math.hypot(point[0] - before[0], point[1] - before[1]) > 0.05
    })
    if (ring.length >= 3) props.onDrawn(ring)
  }

  function keyed(event: KeyboardEvent): void {
    if (tool === null) return
    if (event.key === 'Enter') finish(corners)
    else if (event.key === 'Escape') props.onCancel()
    else if (event.key === 'Backspace') setCorners(corners.slice(0, -1))
    else return
    event.stopPropagation()
    event.preventDefault()
  }
}

const hints: Readonly<Record<DrawTool, string>> = {
  rectangle: 'Drag from corner to corner.',
  ellipse: 'Drag from corner to corner of the space it fills.',
  polygon: 'Press corner after corner, and the first one again at the end.',
}

function shapeOf(
  tool: DrawTool,
  from: PointMm | null,
  to: PointMm,
  corners: readonly PointMm[],
): readonly PointMm[] {
  if (tool === 'polygon') return corners.length === 0 ? [] : [...corners, to]
  return from === null ? [] : drawn(tool, from, to)
}

function Shape({
  look,
  rings,
  open = false,
}: {
  readonly look: Look
  readonly rings: Outline['rings']
  readonly open?: boolean
}) {
  const seen = rings
    .map(ring => ring.map(point => pixelOver(look, ...point)).filter(pixel => pixel !== null))
    .filter(ring => ring.length > 1)
  const path = open ? seen.map(linePath).join('') : ringsPath(seen)
  return (
    <>
      <path className="draw-under" d={path} />
      <path className="draw-line" d={path} />
    </>
  )
}
