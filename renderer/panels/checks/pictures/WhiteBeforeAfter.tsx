import { useEffect, useRef } from 'react'
import type { WhitePicture } from '../../../../core/checks/white/picture.ts'
import { measured } from './words.ts'

const didWords = {
  choked: 'choked',
  'unchoked type': 'small type, its edge kept',
  patch: 'solid behind it',
  'knock-out': 'foil shows through',
} as const

/** White as the file has it, and with what was made of the art. */
export function WhiteBeforeAfter({ picture }: { readonly picture: WhitePicture }) {
  const { width, height, drawn, made, areaMm2, did } = picture
  return (
    <div className="white-pictures">
      <figure>
        <Plane width={width} height={height} data={drawn} label="White of the file" />
        <figcaption>White of the file</figcaption>
      </figure>
      <figure>
        <Plane width={width} height={height} data={made} label="White with what was made of the art" />
        <figcaption>With the made one: {measured(areaMm2 / 100, 'cm²')}</figcaption>
      </figure>
      <details>
        <summary>What each part did</summary>
        <ul>
          {did.map(({ name, did: what }, i) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: layers may share a name, and the list never changes in part
            <li key={i}>
              {name}: {didWords[what]}
            </li>
          ))}
        </ul>
      </details>
    </div>
  )
}

/** Foil, and white on it. */
const [foil, paper] = [70, 250]

function Plane({
  width,
  height,
  data,
  label,
}: {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
  readonly label: string
}) {
  const canvas = useRef<HTMLCanvasElement>(null)
  useEffect(() => {
    const context = canvas.current?.getContext('2d')
    if (!context) return
    const image = new ImageData(width, height)
    for (let i = 0; i < data.length; i++) {
      image.data.fill(foil + ((paper - foil) * data[i]!) / 255, 4 * i, 4 * i + 3)
      image.data[4 * i + 3] = 255
    }
    context.putImageData(image, 0, 0)
  }, [width, height, data])
  return <canvas ref={canvas} width={width} height={height} role="img" aria-label={label} />
}
