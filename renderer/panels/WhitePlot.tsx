import { opacityOf, scatterOf } from '../../core/optics/white.ts'

const width = 220
const height = 84
const most = 6
const left = 26
const xOf = (hits: number): number => left + ((hits - 0.5) / most) * (width - left)
const yOf = (opacity: number): number => 6 + (1 - opacity) * (height - 12)

interface Props {
  /** Contrast ratio of one hit. */
  readonly contrast: number
  /** Hits of the plate. */
  readonly hits: number
  readonly patches: readonly { readonly hits: number; readonly contrast: number }[]
}

/** How opacity grows with hits; the plate's own hits filled, measured patches as rings. */
export function WhitePlot({ contrast, hits, patches }: Props) {
  const scatter = scatterOf(contrast)
  const points = Array.from({ length: most }, (_, i) => ({
    hits: i + 1,
    opacity: opacityOf((i + 1) * scatter),
  }))
  const line = points.map(point => `${xOf(point.hits).toFixed(1)} ${yOf(point.opacity).toFixed(1)}`).join('L')
  return (
    <svg
      className="white-plot"
      viewBox={`0 0 ${width} ${height + 14}`}
      role="img"
      aria-label="What more hits hide"
    >
      <text className="axis" x={width} y={yOf(0) - 4}>
        opacity, %
      </text>
      {[0, 0.5, 1].map(part => (
        <g key={part}>
          <line className="grid" x1={left} x2={width} y1={yOf(part)} y2={yOf(part)} />
          <text className="scale" x={left - 4} y={yOf(part) + 3}>
            {part * 100}
          </text>
        </g>
      ))}
      <path className="curve" d={`M${line}`} />
      {points.map(point => (
        <circle
          key={point.hits}
          className={point.hits === hits ? 'own' : 'other'}
          cx={xOf(point.hits)}
          cy={yOf(point.opacity)}
          r={point.hits === hits ? 4 : 2.4}
        />
      ))}
      {patches.map(patch => (
        <circle
          key={`${patch.hits} ${patch.contrast}`}
          className="patch"
          cx={xOf(Math.min(most, patch.hits))}
          cy={yOf(patch.contrast)}
          r={4.5}
        />
      ))}
      {points.map(point => (
        <text key={point.hits} x={xOf(point.hits)} y={height + 11}>
          {point.hits === 1 ? '1 hit' : point.hits}
        </text>
      ))}
    </svg>
  )
}
