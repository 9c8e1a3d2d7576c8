/** Plates that move together when a sheet does not lie where it should. */
export const plateGroups = ['holography', 'white', 'colour', 'die'] as const
export type PlateGroup = (typeof plateGroups)[number]

/** How a group lies against its design: stretched and turned about the panel's middle, then moved. */
export interface Misfit {
  /** Right and up, mm. */
  readonly xMm: number
  readonly yMm: number
  /** Counter-clockwise. */
  readonly turnDeg: number
  /** Longer by so much of its width and height, %. */
  readonly stretchXPercent: number
  readonly stretchYPercent: number
}

export const misfitRanges = {
  offsetMm: [-20, 20],
  turnDeg: [-5, 5],
  stretchPercent: [-5, 5],
} as const

export const inRegister: Misfit = { xMm: 0, yMm: 0, turnDeg: 0, stretchXPercent: 0, stretchYPercent: 0 }

/** Misfits by the name of the group; one that is not there fits. */
export type Register = Readonly<Record<string, Misfit>>

/** How a group lies. */
export const misfitOf = (register: Register, group: PlateGroup): Misfit => register[group] ?? inRegister
