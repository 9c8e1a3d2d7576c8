// Written by make.mjs; sources in SOURCES.md.

/** CIELAB (D50, 2°) of the 16 full-tone primaries on white coated board; bit 0 cyan, 1 magenta, 2 yellow, 3 black. */
export const primaries: readonly (readonly [number, number, number])[] = [
  [95, 0, -2],
  [55, -37, -50],
  [48, 74, -3],
  [24, 22, -46],
  [89, -5, 93],
  [50, -65, 27],
  [47, 68, 48],
  [23, 0, 0],
  [16, 0, 0],
  [10.41, -8.2, -10.25],
  [10.42, 13.93, 1.35],
  [7.88, 5.79, -5.94],
  [15.71, -3.08, 11.68],
  [11.32, -12.88, 3.56],
  [11.33, 8.61, 7.28],
  [8.71, -0.07, 2.06],
]
