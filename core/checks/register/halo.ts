import type { Pair } from './tolerance.ts'

/** What a sliver shows that nobody drew: metal, or the white beneath the inks. */
export type Halo = 'foil' | 'white'

/** Which of a pair lies at a place: the first alone, the second alone, both, or none. */
export interface HaloRule {
  readonly aOnly: Halo | null
  readonly bOnly: Halo | null
  readonly both: Halo | null
  readonly neither: Halo | null
  /** White over the metal there hides it. */
  readonly hiddenByWhite: boolean
  /** What an overlap or gap of the two is called, for whoever has to mend it. */
  readonly mend: 'choke' | 'overlap' | 'clear' | 'bleed'
}

/** What shows where a pair has slipped; null: nothing that was not there before. */
export function haloRule([a, b]: Pair): HaloRule {
  const nothing = { aOnly: null, bOnly: null, both: null, neither: null } as const
  switch (`${a} ${b}`) {
    case 'colour white':
      // Ink that lost its white lies on metal; white that lost its ink is seen; between two that met, metal.
      return {
        ...nothing,
        aOnly: 'foil',
        bOnly: 'white',
        neither: 'foil',
        hiddenByWhite: false,
        mend: 'choke',
      }
    case 'holography white':
      return { ...nothing, aOnly: 'foil', neither: 'foil', hiddenByWhite: false, mend: 'overlap' }
    case 'holography colour':
      return {
        aOnly: 'foil',
        bOnly: 'foil',
        both: 'foil',
        neither: 'foil',
        hiddenByWhite: true,
        mend: 'clear',
      }
    default:
      // At the cut: what ends with the die leaves a strip of metal where it ends before it.
      return { ...nothing, aOnly: 'foil', hiddenByWhite: b !== 'white', mend: 'bleed' }
  }
}

/** Distance of two edges that were drawn as one, mm: more is a trap, a choke or a gap that somebody wanted. */
export const drawnAsOne = 0.02

/**
 * Width of the strip that shows at an edge, mm; 0 where none does, or where it only grew or shrank.
 * @param gap     from the first group's edge outward to the second's, as drawn
 * @param apart   the same after they slipped
 * @param opposed the two lie on different sides of their edges
 */
export function stripWidth(rule: HaloRule, halo: Halo, opposed: boolean, gap: number, apart: number): number {
  const [outside, inside] = opposed ? [rule.neither, rule.both] : [rule.bOnly, rule.aOnly]
  if (apart > 0) return outside === halo && gap <= drawnAsOne ? apart : 0
  return inside === halo && gap >= -drawnAsOne ? -apart : 0
}
