import { useEffect, useRef } from 'react'
import type { Picture } from '../../../core/host/picture.ts'

interface Props {
  readonly picture: Picture
  /** What it shows, in words; empty where words beside it say so. */
  readonly label: string
}

/** A picture that the host drew, as large as its place. */
export function PictureCanvas({ picture, label }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const { width, height, rgba } = picture
  useEffect(() => {
    const context = canvas.current?.getContext('2d')
    if (!context) return
    context.putImageData(new ImageData(new Uint8ClampedArray(rgba), width, height), 0, 0)
  }, [width, height, rgba])
  return (
    <canvas
      ref={canvas}
      width={width}
      height={height}
      {...(label === '' ? { 'aria-hidden': true } : { role: 'img', 'aria-label': label })}
    />
  )
}
