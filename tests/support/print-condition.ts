import { conditionNodes, type PrintCondition, storeFactor } from '../../core/color/print-condition.ts'
import { primaries } from '../../core/data/primaries.ts'

/**
 * A press that nobody has, made without the colour engine, so that a page can make it too: each ink takes its share of
 * X, Y and Z by a curve of its own. Absolute, so that white ink takes the paper's colour.
 */
export function inventedCondition(): PrintCondition {
  made ??= invent()
  return made
}
// The scenes are made anew for each picture; a million tones need not be.
let made: PrintCondition | undefined

function invent(): PrintCondition {
  const last = conditionNodes - 1
  const taken = [
    [0.7, 0.6, 0.2],
    [0.5, 0.75, 0.6],
    [0.1, 0.1, 0.9],
    [0.96, 0.96, 0.96],
  ] as const
  const factors = new Uint16Array(3 * conditionNodes ** 4)
  for (let node = 0, rest = 0; node < conditionNodes ** 4; node++) {
    rest = node
    const left = [1, 1, 1]
    for (const share of taken) {
      const tone = (rest % conditionNodes) / last
      rest = Math.floor(rest / conditionNodes)
      for (let c = 0; c < 3; c++) left[c]! *= 1 - share[c]! * tone ** 0.8
    }
    for (let c = 0; c < 3; c++) factors[3 * node + c] = storeFactor(left[c]!)
  }
  return {
    name: 'an invented press',
    rendering: { intent: 'absolute', blackPoint: false },
    solids: primaries,
    factors,
  }
}
