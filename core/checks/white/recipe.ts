import type { WhiteDesign } from './from-art.ts'
import { whiteLimits } from './limits.ts'
import type { WhiteWish } from './sources.ts'

/** How a white is made of the art: what it lies under and how it follows it. Its pixels are made of this again. */
export interface WhiteRecipe extends WhiteWish {
  readonly name: string
  readonly design: WhiteDesign
}

export const recipeRanges = {
  chokeMm: whiteLimits['white.choke'].range,
  spreadMm: whiteLimits['white.spread'].range,
  chokeFromPt: whiteLimits['white.chokeFromPt'].range,
} as const
