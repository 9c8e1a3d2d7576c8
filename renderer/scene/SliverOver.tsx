import { useEffect, useRef } from 'react'
import type { Strips } from '../../core/checks/register/strips.ts'
import { type Look, pixelsOver } from '../stage/place.ts'

interface Props {
  readonly look: Look
  readonly strips: readonly { readonly strips: Strips; readonly css: string }[]
  /** Narrower ones are drawn thin. */
  readonly visibleMm: number
}

/** Over the picture: slivers outlined, with a dark rim so that they are seen on light and on dark. */
export function SliverOver({ look, strips, visibleMm }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const { width, height } = look
  useEffect(() => {
    const element = canvas.current
    const context = element?.getContext('2d')
    if (!element || !context) return
    const ratio = window.devicePixelRatio
    element.width = Math.round(width * ratio)
    element.height = Math.round(height * ratio)
    context.scale(ratio, ratio)
    context.lineJoin = 'round'
    const over = pixelsOver(look)
    for (const { strips: some, css } of strips) {
      const [wide, narrow] = pathsOf(some, visibleMm, over)
      context.strokeStyle = rim
      context.lineWidth = 2.6
      context.stroke(wide)
      context.strokeStyle = css
      context.fillStyle = css
      context.lineWidth = 1
      context.stroke(wide)
      context.fill(wide)
      context.lineWidth = 0.6
      context.stroke(narrow)
    }
  }, [look, strips, visibleMm, width, height])
  return <canvas ref={canvas} className="sliver-over" style={{ width, height }} />
}

const rim = 'rgb(0 0 0 / 0.6)'

function pathsOf(
  { count, corners, widths }: Strips,
  visibleMm: number,
  over: ReturnType<typeof pixelsOver>,
): readonly [wide: Path2D, narrow: Path2D] {
  const [wide, narrow] = [new Path2D(), new Path2D()]
  for (let i = 0; i < count; i++) {
    const pixels = [0, 2, 4, 6].map(c => over(corners[8 * i + c]!, corners[8 * i + c + 1]!))
    const [a, b, c, d] = pixels
    if (!a || !b || !c || !d) continue
    const path = widths[i]! > visibleMm ? wide : narrow
    path.moveTo(...a)
    path.lineTo(...b)
    path.lineTo(...c)
    path.lineTo(...d)
    path.closePath()
  }
  return [wide, narrow]
}
