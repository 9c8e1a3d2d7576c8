import { useEffect, useRef, useState } from 'react'
import type { Picture } from '../../core/host/contract.ts'

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

function draw(canvas: HTMLCanvasElement, picture: Picture): void {
  canvas.width = picture.width
  canvas.height = picture.height
  const image = new ImageData(new Uint8ClampedArray(picture.rgba), picture.width, picture.height)
  canvas.getContext('2d')?.putImageData(image, 0, 0)
}
