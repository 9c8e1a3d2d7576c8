import type { PanelFlashes } from '../../../state/flashes.ts'
import { eyeWords, lampWords, shortLight } from './flash-words.ts'
import { shareWords } from './words.ts'

interface Props {
  readonly panels: readonly PanelFlashes[]
  /** Name of the one that is drawn. */
  readonly chosen: string
}

/** What the pictures of all panels say, in numbers: where each is brightest, and how often it flashes. */
export function FlashTable({ panels, chosen }: Props) {
  return (
    <table className="flash-table">
      <caption>
        Each panel over all places of lamp and eye: how often it flashes, and where it is brightest, times
        paper white
      </caption>
      <thead>
        <tr>
          <th scope="col">Panel</th>
          <th scope="col" className="number-cell">
            Flashes
          </th>
          <th scope="col" className="number-cell">
            Brightest
          </th>
          <th scope="col">Lamp</th>
          <th scope="col">Eye</th>
        </tr>
      </thead>
      <tbody>
        {panels.map(({ panel, brightest, flashing }) => (
          <tr key={panel} aria-current={panel === chosen}>
            <th scope="row">{panel}</th>
            {brightest === null ? (
              <td colSpan={4}>seen from none of the places</td>
            ) : (
              <>
                <td className="number-cell">{shareWords(flashing)}</td>
                <td className="number-cell">{shortLight(brightest.most)}</td>
                <td className="whole">{lampWords(brightest.pose)}</td>
                <td>{eyeWords(brightest.eye)}</td>
              </>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  )
}
