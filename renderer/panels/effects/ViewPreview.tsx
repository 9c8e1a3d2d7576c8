import { useEffect, useRef, useState } from 'react'
import type { Picture } from '../../../core/host/picture.ts'
import { Slide } from '../Slide.tsx'
import { paintedPart, toCanvas } from './light.ts'

/** One picture of a view, the furthest from the eye first. */
export interface Sheet {
  readonly picture: Picture
  /** To the right and down, in parts of the picture's width and height. */
  readonly shift?: readonly [number, number]
  /** Left, top, right, bottom of what is shown of it, in parts; the whole when left out. */
  readonly part?: readonly [number, number, number, number]
}

interface Props {
  /** What each view shows, from the first eye to the last. */
  readonly views: readonly (readonly Sheet[])[]
  /** Angle of each view's eye from straight-on, degrees. */
  readonly angles: readonly number[]
  /** Width over height of what the pictures cover. */
  readonly aspect: number
  /** Says what the chosen view is, such as `picture 2`. */
  readonly name: (view: number) => string
}

/** What the eye sees from one side, and a slider that moves the eye. */
export function ViewPreview({ views, angles, aspect, name }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const [chosen, setChosen] = useState<number | null>(null)
  const view = Math.min(views.length - 1, chosen ?? Math.floor((views.length - 1) / 2))
  useEffect(() => {
    if (canvas.current !== null) draw(canvas.current, views, view, aspect)
  }, [views, view, aspect])
  // Nothing has come yet.
  if (views.every(sheets => sheets.length === 0)) return null
  const angle = Math.round(angles[view] ?? 0)
  const side =
    angle === 0 ? 'straight on' : `${Math.abs(angle)}° from ${angle < 0 ? 'the left' : 'the right'}`
  return (
    <div className="view-preview">
      <canvas ref={canvas} width={1} height={1} role="img" aria-label={`Seen ${side}: ${name(view)}`} />
      {views.length > 1 ? (
        <Slide
          label="Seen from"
          value={view}
          min={0}
          max={views.length - 1}
          step={1}
          says={`${side}, ${name(view)}`}
          onChange={setChosen}
        />
      ) : null}
    </div>
  )
}

/** Drawn twice as fine as it is shown. */
const drawnWidth = 640
const highest = 520
/** Room around what is painted, part of the larger side. */
const margin = 0.06

function draw(canvas: HTMLCanvasElement, views: Props['views'], view: number, aspect: number): void {
  const [left, top, right, bottom] = frameOf(views)
  const [wide, high] = [(right - left) * aspect, bottom - top]
  const scale = Math.min(drawnWidth / wide, highest / high)
  canvas.width = Math.max(1, Math.round(wide * scale))
  canvas.height = Math.max(1, Math.round(high * scale))
  const context = canvas.getContext('2d')
  if (context === null) return
  context.fillStyle = '#000'
  context.fillRect(0, 0, canvas.width, canvas.height)
  context.imageSmoothingQuality = 'high'
  for (const { picture, shift: [dx, dy] = [0, 0], part = whole } of views[view] ?? []) {
    const [l, t, r, b] = part
    const at = [dx - left, dy - top] as const
    context.drawImage(
      toCanvas(picture),
      l * picture.width,
      t * picture.height,
      (r - l) * picture.width,
      (b - t) * picture.height,
      // A part shows where the first part of its picture lies.
      at[0] * aspect * scale,
      at[1] * scale,
      (r - l) * aspect * scale,
      (b - t) * scale,
    )
  }
}

const whole = [0, 0, 1, 1] as const

/** The place that all views together need, so that nothing jumps when the eye moves. */
function frameOf(views: Props['views']): readonly [number, number, number, number] {
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  const known = new Map<Picture, readonly [number, number, number, number]>()
  for (const sheets of views)
    for (const { picture, shift: [dx, dy] = [0, 0], part } of sheets) {
      const painted = known.get(picture) ?? paintedPart(picture)
      known.set(picture, painted)
      const [l, t, r, b] = part === undefined ? painted : [0, 0, part[2] - part[0], part[3] - part[1]]
      left = Math.min(left, l + dx)
      top = Math.min(top, t + dy)
      right = Math.max(right, r + dx)
      bottom = Math.max(bottom, b + dy)
    }
  if (!(right > left && bottom > top)) return whole
  const room = margin * Math.max(right - left, bottom - top)
  return [left - room, top - room, right + room, bottom + room]
}

/** Eyes evenly from −fan to +fan, degrees; one eye stands straight on. */
export const fanAngles = (count: number, fanDeg: number): readonly number[] =>
  Array.from({ length: count }, (_, i) => (count === 1 ? 0 : fanDeg * ((2 * i) / (count - 1) - 1)))
