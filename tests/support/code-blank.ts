import type { Blank } from '../../core/carton/blank.ts'

/** A front of 50 × 80 mm with a glue flap of 15 mm on its right. */
export const boxBlank: Blank = {
  widthMm: 65,
  heightMm: 80,
  caliperMm: 0.4,
  panels: [
    {
      name: 'front',
      outline: [
        [0, 0],
        [50, 0],
        [50, 80],
        [0, 80],
      ],
    },
    {
      name: 'glue flap',
      outline: [
        [50, 0],
        [65, 0],
        [65, 80],
        [50, 80],
      ],
    },
  ],
  hinges: [
    {
      name: 'glue',
      parent: 'front',
      child: 'glue flap',
      from: [50, 0],
      to: [50, 80],
      closedDeg: 90,
      begins: 0,
      ends: 1,
    },
  ],
  root: 'front',
  die: {
    lines: [],
    glue: [
      [
        [52, 0],
        [65, 0],
        [65, 80],
        [52, 80],
      ],
    ],
    bleed: [],
  },
}
