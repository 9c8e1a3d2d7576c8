import type { LampFlash } from '../../../state/flashes.ts'
import { shortLight } from './flash-words.ts'

interface Props {
  readonly panel: string
  readonly lamps: readonly LampFlash[]
}

/** The fields of the picture as a table: a row for each direction of the lamp, a column for each height. */
export function LampTable({ panel, lamps }: Props) {
  const heights = inOrder(lamps.map(({ pose }) => pose.elevationDeg))
  return (
    <details>
      <summary>The same in numbers</summary>
      <table>
        <caption>Light of the {panel} by lamp place, times paper white</caption>
        <thead>
          <tr>
            <th scope="col">Lamp</th>
            {heights.map(deg => (
              <th key={deg} scope="col" className="number-cell">
                {deg}° up
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {inOrder(lamps.map(({ pose }) => pose.azimuthDeg)).map(azimuth => (
            <tr key={azimuth}>
              <th scope="row">
                {azimuth}° round{sides.get(azimuth) ?? ''}
              </th>
              {heights.map(height => (
                <td key={height} className="number-cell">
                  {lightWords(
                    lamps.find(({ pose }) => pose.azimuthDeg === azimuth && pose.elevationDeg === height),
                  )}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}

const sides = new Map([
  [0, ', right'],
  [90, ', top'],
  [180, ', left'],
  [270, ', bottom'],
])

const inOrder = (all: readonly number[]): readonly number[] => [...new Set(all)].sort((a, b) => a - b)

const lightWords = (flash: LampFlash | undefined): string =>
  flash === undefined || Number.isNaN(flash.most) ? 'not seen' : shortLight(flash.most)
