import { type GroupMotion, groups, type Motions } from '../checks/register/groups.ts'

/** Plates that move together when a sheet does not lie where it should. */
export const plateGroups = groups
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

const degree = Math.PI / 180

/** A misfit as the checks reckon with it. */
export const motionOf = (misfit: Misfit): GroupMotion => ({
  dxMm: misfit.xMm,
  dyMm: misfit.yMm,
  turn: misfit.turnDeg * degree,
  stretchX: 1 + misfit.stretchXPercent / 100,
  stretchY: 1 + misfit.stretchYPercent / 100,
})

/** The same the other way. */
export const misfitFrom = (motion: GroupMotion): Misfit => ({
  xMm: motion.dxMm,
  yMm: motion.dyMm,
  turnDeg: motion.turn / degree,
  stretchXPercent: 100 * (motion.stretchX - 1),
  stretchYPercent: 100 * (motion.stretchY - 1),
})

/** All of a job's misfits; groups of a later version are left out. */
export const motionsOf = (register: Register): Motions =>
  Object.fromEntries(
    plateGroups.flatMap(group => {
      const misfit = register[group]
      return misfit === undefined ? [] : [[group, motionOf(misfit)]]
    }),
  )

/** How the job's groups of plates lie in its picture; a panel that nothing cuts has no die to slip. */
export function shownMotions({
  register,
  carton,
}: {
  readonly register: Register
  readonly carton: object | null
}): Motions {
  const { die, ...printed } = motionsOf(register)
  return carton === null || die === undefined ? printed : { ...printed, die }
}

/** Misfits of motions, rounded to 1 µm, 0.0001° and 0.0001 %; groups that lie as designed are left out. */
export const registerFrom = (motions: Motions): Register =>
  Object.fromEntries(
    plateGroups.flatMap(group => {
      const motion = motions[group]
      if (motion === undefined) return []
      const misfit = rounded(misfitFrom(motion))
      return Object.values(misfit).every(value => value === 0) ? [] : [[group, misfit]]
    }),
  )

function rounded({ xMm, yMm, turnDeg, stretchXPercent, stretchYPercent }: Misfit): Misfit {
  const to = (value: number, parts: number) => Math.round(value * parts) / parts
  return {
    xMm: to(xMm, 1e3),
    yMm: to(yMm, 1e3),
    turnDeg: to(turnDeg, 1e4),
    stretchXPercent: to(stretchXPercent, 1e4),
    stretchYPercent: to(stretchYPercent, 1e4),
  }
}
