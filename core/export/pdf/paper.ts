/** Points of a millimetre. */
export const mm = 72 / 25.4

/** A4, upright, points. Source: ISO 216. */
export const paper = { width: 210 * mm, height: 297 * mm } as const

/** Free border; words and pictures lie inside. */
export const border = { left: 18 * mm, right: 18 * mm, top: 16 * mm, bottom: 18 * mm } as const

/** Width that words and pictures may take, points. */
export const columnWidth = paper.width - border.left - border.right
