import type { Told } from './told.ts'

/** Drawn margins are told of when they lack more than a quarter module. */
const slack = 0.25

/** One side of a code that has to stay clear. */
export interface Margin {
  /** As the sentence goes on: `before the first bar`. */
  readonly where: string
  readonly clearMm: number
  /** Modules that have to stay clear. */
  readonly modules: number
}

/** The margin that lacks most, where one does. */
export function quietFinding(margins: readonly Margin[], moduleMm: number): readonly Told[] {
  const lacks = ({ clearMm, modules }: Margin) => modules - clearMm / moduleMm
  const worst = margins.reduce((a, b) => (lacks(b) > lacks(a) ? b : a))
  if (lacks(worst) <= slack) return []
  const { where, clearMm, modules } = worst
  return [
    {
      severity: 'error',
      code: 'code-quiet-zone',
      message: `its light margin ${where} is ${clearMm.toFixed(2)} mm where ${(modules * moduleMm).toFixed(2)} mm (${modules} ${modules === 1 ? 'module' : 'modules'}) must stay clear`,
      fix: 'Move what is drawn there, or make the code smaller.',
      measured: { value: clearMm, unit: 'mm' },
    },
  ]
}
