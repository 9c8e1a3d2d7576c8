import { useEffect, useRef } from 'react'
import type { HeatMap } from '../../../../core/checks/sweep/heat-map.ts'
import { lightStep, lightSteps } from './light-steps.ts'

/** What of a place's light over all views is shown. */
export const heatParts = ['mean', 'least', 'most'] as const
export type HeatPart = (typeof heatParts)[number]
export const heatWords = {
  mean: 'On average',
  least: 'At its darkest',
  most: 'At its brightest',
} as const satisfies Record<HeatPart, string>

/** From black to white, times paper white. */
const decades = [0.01, 0.1, 1, 10, 100] as const
const [black, white] = [0x1c, 0xff]

function greyOf(light: number): string {
  const part = Math.log10(light / decades[0]) / (decades.length - 1)
  const grey = Math.round(black + (white - black) * Math.min(1, Math.max(0, part)))
  return `rgb(${grey} ${grey} ${grey})`
}

interface Props {
  readonly heat: HeatMap
  readonly part: HeatPart
}

/** Every place of the art by its light over all views; each grey is ten times as bright as one a quarter darker. */
export function LightHeat({ heat, part }: Props) {
  const { columns, rows } = heat
  const canvas = useRef<HTMLCanvasElement>(null)
  const light = heat[part]
  useEffect(() => {
    const context = canvas.current?.getContext('2d')
    if (!context) return
    context.clearRect(0, 0, columns, rows)
    for (const [i, value] of light.entries()) {
      if (Number.isNaN(value)) continue
      context.fillStyle = greyOf(value)
      context.fillRect(i % columns, Math.floor(i / columns), 1, 1)
    }
  }, [light, columns, rows])
  return (
    <figure className="light-heat">
      <canvas
        ref={canvas}
        width={columns}
        height={rows}
        role="img"
        aria-label={`Light of every place, ${heatWords[part].toLowerCase()}; the table says how much is how bright`}
      />
      <figcaption>
        <span className="light-bar" aria-hidden="true" />
        <ol className="light-ends" aria-label="Light, times paper white, from black to white">
          {decades.map(decade => (
            <li key={decade}>{decade === 1 ? '1 = paper' : decade}</li>
          ))}
        </ol>
        <p className="quiet">
          The art lies flat under the lamps, is tilted up to 60° and turned all round. Foil goes from dark to
          dazzling; white only pales and shades.
        </p>
      </figcaption>
    </figure>
  )
}

/** How much of the art is how bright. */
export function HeatTable({ heat }: { readonly heat: HeatMap }) {
  return (
    <details>
      <summary>The same in numbers</summary>
      <table>
        <caption>Part of the art by its light over all views</caption>
        <thead>
          <tr>
            <th scope="col">Light</th>
            {heatParts.map(part => (
              <th key={part} scope="col" className="number-cell">
                {heatWords[part]}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {lightSteps.map(({ name }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {heatParts.map(part => (
                <td key={part} className="number-cell">
                  {Math.round(100 * partOf(heat[part], name))} %
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

/** Of the places whose light is known, 0..1. */
function partOf(light: Float32Array, name: string): number {
  const steps = [...light].map(value => lightStep(value)?.name).filter(step => step !== undefined)
  return steps.filter(step => step === name).length / Math.max(1, steps.length)
}
