/** What a proof's file may have when nobody says, bytes: what most mail still takes. */
export const usualBudget = 25_000_000
/** Less holds no live view; more no browser keeps as one text. */
export const budgetLimits: readonly [least: number, most: number] = [500_000, 400_000_000]
