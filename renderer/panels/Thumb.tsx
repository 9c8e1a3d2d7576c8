import { useEffect, useRef, useState } from 'react'
import type { Picture } from '../../core/host/picture.ts'

interface Props {
  /** Asked for again when `of` changes. */
  readonly of: string
  readonly load: () => Promise<Picture>
}

/** A small picture that the host draws, beside words that say what it shows. */
export function Thumb({ of, load }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const loadNow = useRef(load)
  loadNow.current = load
  const [failed, setFailed] = useState(false)
  // biome-ignore lint/correctness/useExhaustiveDependencies: `of` names what `load` loads
  useEffect(() => {
    let wanted = true
    setFailed(false)
    loadNow.current().then(
      picture => {
        if (wanted && canvas.current !== null) draw(canvas.current, picture)
      },
      () => {
        if (wanted) setFailed(true)
      },
    )
    return () => {
      wanted = false
    }
  }, [of])
  return (
    <span className={failed ? 'thumb failed' : 'thumb'} aria-hidden="true">
      <canvas ref={canvas} width={1} height={1} />
    </span>
  )
}

/** Draws the part of the picture that holds something, so that small things can be made out. */
function draw(canvas: HTMLCanvasElement, picture: Picture): void {
  const { x, y, side } = interesting(picture)
  const whole = new OffscreenCanvas(picture.width, picture.height)
  const image = new ImageData(new Uint8ClampedArray(picture.rgba), picture.width, picture.height)
  whole.getContext('2d')?.putImageData(image, 0, 0)
  canvas.width = drawnSide
  canvas.height = drawnSide
  const context = canvas.getContext('2d')
  if (context === null) return
  context.imageSmoothingQuality = 'high'
  context.drawImage(whole, x, y, side, side, 0, 0, drawnSide, drawnSide)
}

/** Pixels along each side, twice the largest that is shown. */
const drawnSide = 160

/** At least this part of the picture is shown, so that a place can still be told. */
const leastPart = 0.3

/** A square around all pixels that are neither transparent nor black. */
function interesting({ width, height, rgba }: Picture): { x: number; y: number; side: number } {
  let [left, top, right, bottom] = [width, height, 0, 0]
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++) {
      const at = 4 * (row * width + column)
      if (!holdsSomething(rgba, at)) continue
      left = Math.min(left, column)
      right = Math.max(right, column + 1)
      top = Math.min(top, row)
      bottom = Math.max(bottom, row + 1)
    }
  const longest = Math.max(width, height)
  if (right === 0) return { x: (width - longest) / 2, y: (height - longest) / 2, side: longest }
  const side = Math.round(Math.max(leastPart * longest, 1.1 * Math.max(right - left, bottom - top)))
  return {
    x: Math.round((left + right - side) / 2),
    y: Math.round((top + bottom - side) / 2),
    side,
  }
}

const faint = 12

/** Colour previews are transparent where nothing is, amounts are black there. */
function holdsSomething(rgba: Uint8Array, at: number): boolean {
  const alpha = rgba[at + 3] ?? 0
  if (alpha < 255) return alpha > faint
  return Math.max(rgba[at] ?? 0, rgba[at + 1] ?? 0, rgba[at + 2] ?? 0) > faint
}
