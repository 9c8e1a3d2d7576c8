import { type KeyboardEvent, type PointerEvent, useEffect, useRef, useState } from 'react'
import { splitSide, withoutPoint, withPoint } from '../../core/effects/draw.ts'
import type { Outline, PointMm } from '../../core/effects/outline.ts'
import { drawn } from '../state/outlines.ts'
import type { DrawTool } from '../state/state.ts'
import { type Look, pixelOver, spotUnder } from './place.ts'

/** A direction that can be dragged: an arrow in the middle of its area. */
export interface Arrow {
  readonly centerXMm: number
  readonly centerYMm: number
  readonly lengthMm: number
  readonly deg: number
  readonly label: string
}

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
/** Reach of a corner that closes a polygon, CSS pixels. */
const closeReach = 10
/** A drawn shape smaller than this was a click, mm. */
const smallest = 0.5

type Pixel = readonly [x: number, y: number]

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
                  <Handle
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
      {tool === null ? null : (
        <text className="draw-hint" x={look.width / 2} y={look.height - 44} textAnchor="middle">
          {hints[tool]}
        </text>
      )}
    </svg>
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
  rectangle: 'Drag from corner to corner. Esc ends drawing.',
  ellipse: 'Drag from corner to corner of the space it fills. Esc ends drawing.',
  polygon:
    'Click corner after corner; the first corner, a double click or Enter closes it. Esc ends drawing.',
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

function placeUnder(look: Look, box: Element | null, event: PointerEvent): PointMm | null {
  const rect = box?.getBoundingClientRect()
  if (rect === undefined) return null
  const spot = spotUnder(look, event.clientX - rect.left, event.clientY - rect.top)
  return spot === null ? null : [round(spot.xMm), round(spot.yMm)]
}

/** To a hundredth of a millimetre: a hand is not finer. */
const round = (mm: number): number => Math.round(mm * 100) / 100

function Shape({
  look,
  rings,
  open = false,
}: {
  readonly look: Look
  readonly rings: Outline['rings']
  readonly open?: boolean
}) {
  const path = rings
    .map(ring => ring.map(point => pixelOver(look, ...point)).filter(pixel => pixel !== null))
    .filter(ring => ring.length > 1)
    .map(ring => `M${ring.map(pixel => pixel.join(' ')).join('L')}${open ? '' : 'Z'}`)
    .join('')
  return (
    <>
      <path className="draw-under" d={path} />
      <path className="draw-line" d={path} />
    </>
  )
}

interface HandleProps {
  readonly look: Look
  readonly at: PointMm
  readonly label: string
  readonly onMove: (to: PointMm) => void
  readonly onSplit: () => void
  readonly onRemove: () => void
  readonly onSettle: () => void
}

/** Millimetres a press of an arrow key; with Shift a tenth. */
const keyStep = 1

function Handle({ look, at, label, onMove, onSplit, onRemove, onSettle }: HandleProps) {
  const pixel = pixelOver(look, ...at)
  if (pixel === null) return null
  return (
    // biome-ignore lint/a11y/useSemanticElements: a button cannot lie in a drawing
    <circle
      className="draw-handle"
      cx={pixel[0]}
      cy={pixel[1]}
      r={6}
      role="button"
      tabIndex={0}
      aria-label={`${label}, at ${at[0].toFixed(1)}, ${at[1].toFixed(1)} mm. Arrow keys move it, Insert adds one after it, Delete removes it.`}
      {...dragging(look, onMove, onSettle)}
      onDoubleClick={event => {
        event.stopPropagation()
        onSplit()
      }}
      onKeyDown={event => {
        const step = event.shiftKey ? keyStep / 10 : keyStep
        const by = arrows[event.key]
        if (by !== undefined) onMove([round(at[0] + by[0] * step), round(at[1] + by[1] * step)])
        else if (event.key === 'Insert') onSplit()
        else if (event.key === 'Delete') onRemove()
        else return
        event.stopPropagation()
        event.preventDefault()
        onSettle()
      }}
    />
  )
}

const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
}

function dragging(look: Look, onMove: (to: PointMm) => void, onSettle: () => void) {
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

interface ArrowProps {
  readonly look: Look
  readonly arrow: Arrow
  readonly onTurn: (deg: number) => void
  readonly onSettle: () => void
}

function ArrowHandle({ look, arrow, onTurn, onSettle }: ArrowProps) {
  const { centerXMm, centerYMm, lengthMm, deg, label } = arrow
  const radians = (deg * Math.PI) / 180
  const end = (part: number): PointMm => [
    centerXMm + part * lengthMm * Math.cos(radians),
    centerYMm + part * lengthMm * Math.sin(radians),
  ]
  const [tail, tip] = [pixelOver(look, ...end(-0.5)), pixelOver(look, ...end(0.5))]
  if (tail === null || tip === null) return null
  const turned = ([x, y]: PointMm) => {
    const angle = (Math.atan2(y - centerYMm, x - centerXMm) * 180) / Math.PI
    // The turn nearest to the one before, so that a drag does not jump by 360°.
    onTurn(Math.round(angle + 360 * Math.round((deg - angle) / 360)))
  }
  return (
    <g className="draw-arrow">
      <path className="draw-under" d={arrowPath(tail, tip)} />
      <path className="draw-line" d={arrowPath(tail, tip)} />
      <circle
        className="draw-handle"
        cx={tip[0]}
        cy={tip[1]}
        r={8}
        role="slider"
        tabIndex={0}
        aria-label="Direction of the effect"
        aria-valuemin={-360}
        aria-valuemax={360}
        aria-valuenow={deg}
        aria-valuetext={label}
        {...dragging(look, turned, onSettle)}
        onKeyDown={event => {
          const by = event.key === 'ArrowLeft' || event.key === 'ArrowUp' ? 1 : -1
          if (arrows[event.key] === undefined) return
          event.stopPropagation()
          event.preventDefault()
          onTurn(deg + by * (event.shiftKey ? 15 : 1))
          onSettle()
        }}
      />
      <text className="draw-hint" x={tip[0] + 14} y={tip[1] + 4}>
        {label}
      </text>
    </g>
  )
}

/** A line with a head at its tip, pixels. */
function arrowPath([ax, ay]: Pixel, [bx, by]: Pixel): string {
  const angle = Math.atan2(by - ay, bx - ax)
  const barb = (turn: number) => `${bx - 16 * Math.cos(angle + turn)} ${by - 16 * Math.sin(angle + turn)}`
  return `M${ax} ${ay}L${bx} ${by}M${barb(0.5)}L${bx} ${by}L${barb(-0.5)}`
}
