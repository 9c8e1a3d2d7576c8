import { type CSSProperties, useEffect, useRef } from 'react'
import { useSwatch } from './swatches.ts'

/**
 * A piece of foil with a kind of holography that is tilted over and over. Where motion is not wanted it stands still,
 * and moves on under pointer or focus.
 */
export function SwatchView({ kind }: { readonly kind: string }) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const swatch = useSwatch(kind)
  useEffect(() => {
    const context = canvas.current?.getContext('2d')
    if (swatch === null || !context) return
    const { width, height, frames, data } = swatch
    const rgba = new Uint8ClampedArray(width * height * frames * 4).fill(255)
    for (let i = 0; i < width * height * frames; i++)
      for (let c = 0; c < 3; c++) rgba[4 * i + c] = data[3 * i + c] ?? 0
    context.canvas.width = width
    context.canvas.height = height * frames
    context.putImageData(new ImageData(rgba, width, height * frames), 0, 0)
  }, [swatch])
  const frames = { '--frames': swatch?.frames ?? 1 } as CSSProperties
  return (
    <span className={swatch === null ? 'foil-piece' : 'foil-piece drawn'} style={frames} aria-hidden="true">
      <canvas ref={canvas} width={1} height={1} />
    </span>
  )
}
