import type { LampFlash } from '../../../state/flashes.ts'
import { lightStep, lightSteps } from './light-steps.ts'

interface Props {
  readonly panel: string
  readonly lamps: readonly LampFlash[]
}

const side = 320
const radius = 132

/** Lamp places around one panel, seen from above it: low lamps at the rim, high ones near the middle. */
export function FlashPolar({ panel, lamps }: Props) {
  const heights = [...new Set(lamps.map(one => one.pose.elevationDeg))].sort((a, b) => a - b)
  const count = lamps.length / Math.max(1, heights.length)
  return (
    <figure className="flash-polar">
      <svg viewBox={`0 0 ${side} ${side}`} role="img" aria-label={`Flashes of ${panel} by lamp place`}>
        {lamps.map(({ pose, most }) => {
          const ring = heights.length - 1 - heights.indexOf(pose.elevationDeg)
          const [inner, outer] = [ring, ring + 1].map(r => 24 + (r * (radius - 24)) / heights.length)
          const turn = (deg: number): readonly [number, number] => [
            Math.cos((deg * Math.PI) / 180),
            -Math.sin((deg * Math.PI) / 180),
          ]
          const half = 180 / count
          const [a, b, middle] = [-half, half, 0].map(by => turn(pose.azimuthDeg + by))
          const at = ([x, y]: readonly [number, number], r: number) =>
            `${(side / 2 + x * r).toFixed(1)} ${(side / 2 + y * r).toFixed(1)}`
          const step = lightStep(most)
          const [x, y] = at(middle!, (inner! + outer!) / 2)
            .split(' ')
            .map(Number)
          return (
            <g key={`${pose.azimuthDeg} ${pose.elevationDeg}`}>
              <path
                d={`M${at(a!, inner!)}L${at(a!, outer!)}A${outer} ${outer} 0 0 0 ${at(b!, outer!)}L${at(b!, inner!)}A${inner} ${inner} 0 0 1 ${at(a!, inner!)}Z`}
                fill={step?.fill ?? 'none'}
                stroke="#101010"
                strokeWidth={0.8}
              />
              {most >= 2 ? (
                <text
                  x={x}
                  y={y}
                  textAnchor="middle"
                  dominantBaseline="central"
                  fontSize={ring === 0 ? 8 : 11}
                  fill="#000000"
                >
                  {most < 10 ? most.toFixed(1) : Math.round(most)}
                </text>
              ) : null}
            </g>
          )
        })}
        {(
          [
            [0, 'right'],
            [90, 'top'],
            [180, 'left'],
            [270, 'bottom'],
          ] as const
        ).map(([deg, name]) => (
          <text
            key={name}
            x={side / 2 + (radius + 14) * Math.cos((deg * Math.PI) / 180)}
            y={side / 2 - (radius + 14) * Math.sin((deg * Math.PI) / 180)}
            textAnchor="middle"
            dominantBaseline="central"
            fontSize={11}
            fill="currentColor"
          >
            {name}
          </text>
        ))}
      </svg>
      <figcaption>
        <ul className="account-key" aria-label="What the greys mean">
          {lightSteps.map(({ name, fill, from }) => (
            <li key={name}>
              <span className="fill" style={{ backgroundColor: fill }} aria-hidden="true" /> {name}
              {from === 0 ? '' : `, from ${from} times paper`}
            </li>
          ))}
        </ul>
        <p className="quiet">
          Each field is a place of the lamp: at the rim it stands low, near the middle high. Numbers are times
          paper white. A lamp that is mirrored is brightest; what is not seen has no grey.
        </p>
      </figcaption>
    </figure>
  )
}
