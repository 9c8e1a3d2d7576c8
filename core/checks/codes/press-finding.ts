import type { LimitOf, Told } from './told.ts'

/** Bars nearer to across than to along. */
const acrossDeg = 45

/**
 * Bars that lie across the way through the press, where that is known: what slurs or stretches on that way widens them,
 * while bars along it only grow longer. Source: GS1 General Specifications, orientation on the press; from memory.
 * @param along direction of the bars, radians
 */
export function pressFinding(along: number, limits: LimitOf): readonly Told[] {
  const way = limits('codes.press-way')
  if (way.value < 0) return []
  const turn = Math.abs((along * 180) / Math.PI - way.value) % 180
  const off = Math.min(turn, 180 - turn)
  if (off <= acrossDeg) return []
  return [
    {
      severity: 'warning',
      code: 'code-across-press',
      message: `its bars lie across the way through the press, by ${off.toFixed(0)}°: what slurs on that way widens them`,
      fix: 'Turn it by 90°, so that its bars lie along the way of the sheet, or make its modules larger.',
      measured: { value: off, unit: '°' },
      limit: way,
    },
  ]
}
