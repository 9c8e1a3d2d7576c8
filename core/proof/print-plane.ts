import { conditionNodes, type PrintCondition } from '../color/print-condition.ts'
import { printNodes } from '../optics/tables.ts'
import type { PlainPlane } from './planes.ts'

/** Name of the plane that has a print condition's table. */
export const printPlaneName = 'print condition'

/** From a node that a picture's tables read to the next: the rest of a condition never shows. */
const step = (conditionNodes - 1) / (printNodes - 1)

/** The nodes of a print condition that a picture's tables read, as a picture: cyan across, then magenta, yellow, black down. */
export function printPlane({ factors }: Pick<PrintCondition, 'factors'>): PlainPlane {
  const data = new Uint16Array(3 * printNodes ** 4)
  for (let at = 0; at < printNodes ** 4; at++)
    for (let c = 0; c < 3; c++) data[3 * at + c] = factors[3 * nodeOf(at) + c]!
  return {
    name: printPlaneName,
    components: 3,
    columns: printNodes,
    rows: printNodes ** 3,
    tiles: null,
    data,
  }
}

/** The whole table again; nodes that no table reads are those beside them. */
export function printFactors(data: ArrayLike<number>): Uint16Array {
  const out = new Uint16Array(3 * conditionNodes ** 4)
  for (let node = 0; node < conditionNodes ** 4; node++) {
    let at = 0
    let rest = node
    for (let ink = 0; ink < 4; ink++) {
      at += Math.floor((rest % conditionNodes) / step) * printNodes ** ink
      rest = Math.floor(rest / conditionNodes)
    }
    for (let c = 0; c < 3; c++) out[3 * node + c] = data[3 * at + c]!
  }
  return out
}

/** Number in the whole table of a node that is kept. */
function nodeOf(at: number): number {
  let node = 0
  let rest = at
  for (let ink = 0; ink < 4; ink++) {
    node += step * (rest % printNodes) * conditionNodes ** ink
    rest = Math.floor(rest / printNodes)
  }
  return node
}
