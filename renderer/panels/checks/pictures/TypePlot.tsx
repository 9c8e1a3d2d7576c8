import type { TiltContrast } from '../../../../core/checks/legibility/contrast.ts'

const width = 300
const height = 110
const left = 34
const foot = 16
/** The highest contrast that there is: black on white under flare of 0.05. */
const most = 21
const scale = [1, 2, 4.5, 10, most] as const

interface Props {
  readonly name: string
  readonly curve: readonly TiltContrast[]
  /** The contrast that it is held to. */
  readonly limit: number
}

/** Contrast of one piece of type over tilt: the mean of all that has one tilt, and the least. */
export function TypePlot({ name, curve, limit }: Props) {
  const end = Math.max(1, ...curve.map(one => one.tiltDeg))
  const xOf = (deg: number): number => left + (deg / end) * (width - left - 10)
  const yOf = (ratio: number): number =>
    4 + (1 - Math.log(Math.min(most, Math.max(1, ratio))) / Math.log(most)) * (height - 8)
  const line = (of: 'mean' | 'least'): string =>
    curve.map(one => `${xOf(one.tiltDeg).toFixed(1)} ${yOf(one[of]).toFixed(1)}`).join('L')
  const marks = Array.from({ length: Math.floor(end / 15) + 1 }, (_, i) => 15 * i)
  return (
    <figure className="type-plot">
      <svg
        viewBox={`0 0 ${width} ${height + foot}`}
        role="img"
        aria-label={`Contrast of "${name}" over tilt; the table says the same`}
      >
        {scale.map(ratio => (
          <g key={ratio}>
            <line className="grid" x1={left} x2={width} y1={yOf(ratio)} y2={yOf(ratio)} />
            <text className="end" x={left - 4} y={yOf(ratio) + 3}>
              {ratio}:1
            </text>
          </g>
        ))}
        {marks.map(deg => (
          <text key={deg} x={xOf(deg)} y={height + 12}>
            {deg}°
          </text>
        ))}
        <line className="limit" x1={left} x2={width} y1={yOf(limit)} y2={yOf(limit)} />
        <path className="mean" d={`M${line('mean')}`} />
        <path className="least" d={`M${line('least')}`} />
      </svg>
      <figcaption className="quiet">
        Contrast by tilt: the line is the mean over all turns and lamps, the dashes are the least, the dots
        its limit of {limit}:1.
      </figcaption>
      <details>
        <summary>The same in numbers</summary>
        <table>
          <thead>
            <tr>
              <th scope="col">Tilt</th>
              <th scope="col">Mean</th>
              <th scope="col">Least</th>
              <th scope="col">Below the limit</th>
            </tr>
          </thead>
          <tbody>
            {curve.map(({ tiltDeg, mean, least, below }) => (
              <tr key={tiltDeg}>
                <td>{tiltDeg}°</td>
                <td className="number-cell">{mean.toFixed(1)}:1</td>
                <td className="number-cell">{least.toFixed(1)}:1</td>
                <td className="number-cell">{Math.round(100 * below)} %</td>
              </tr>
            ))}
          </tbody>
        </table>
      </details>
    </figure>
  )
}
