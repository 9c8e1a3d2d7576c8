import { useEffect, useRef } from 'react'
import type { Picture } from '../../../core/host/picture.ts'
import { toCanvas } from './light.ts'

/** All views side by side, from the left eye to the right one. */
export function ViewStrip({ pictures }: { readonly pictures: readonly Picture[] }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    if (canvas.current !== null) draw(canvas.current, pictures)
  }, [pictures])
  return (
    <canvas
      ref={canvas}
      className="view-strip"
      width={1}
      height={1}
      role="img"
      aria-label={`${pictures.length} views, from the left to the right`}
    />
  )
}

/** Pixels across, twice what is shown. */
const across = 640
const gap = 4
const mostInRow = 9

function draw(canvas: HTMLCanvasElement, pictures: readonly Picture[]): void {
  const first = pictures[0]
  const context = canvas.getContext('2d')
  if (first === undefined || context === null) return
  const lines = Math.ceil(pictures.length / mostInRow)
  const perRow = Math.ceil(pictures.length / lines)
  const wide = (across - gap * (perRow - 1)) / perRow
  const high = (wide * first.height) / first.width
  canvas.width = across
  canvas.height = Math.round(lines * high + gap * (lines - 1))
  context.imageSmoothingQuality = 'high'
  for (const [i, picture] of pictures.entries()) {
    const x = (i % perRow) * (wide + gap)
    const y = Math.floor(i / perRow) * (high + gap)
    context.drawImage(toCanvas(picture), x, y, wide, high)
  }
}
