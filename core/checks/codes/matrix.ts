import type { Grade } from './grade.ts'
import type { DrawnMatrix, Modules } from './matrix-drawn.ts'
import { apertureName, aperturePart } from './scan.ts'
import type { Readable } from './surface.ts'

/** A matrix code on what a reader sees of it, by contrast and modulation alone. */
export interface JudgedMatrix {
  /** Lightest less darkest of all modules, the light margin's too. */
  readonly symbolContrast: number
  /** Of the worst module: twice its distance from the threshold over the contrast; 0 where it reads wrong. */
  readonly modulation: number
  readonly grades: { readonly symbolContrast: Grade; readonly modulation: Grade }
  /** The lower of both. */
  readonly grade: Grade
  readonly report: string
}

/** Least values for 4, 3, 2 and 1. Source: ISO/IEC 15415, from memory. */
const contrastSteps = [0.7, 0.55, 0.4, 0.2] as const
const modulationSteps = [0.5, 0.4, 0.3, 0.2] as const

/**
 * Each module through a round aperture in its middle. The worst one decides: what error correction would mend is not
 * given to the code, which errs on the safe side. Modules of the light margin count as light ones.
 * @param quiet    modules of light margin; those that are drawn over are told of on their own
 * @param reversed light modules stand for dark ones, in a dark margin
 */
export function judgeMatrix(
  surface: Readable,
  { frame, moduleMm, clearMm }: DrawnMatrix,
  { columns, rows, dark }: Modules,
  quiet: number,
  reversed: boolean,
): JudgedMatrix {
  const [stepX, stepY] = [frame.lengthMm / columns, frame.heightMm / rows]
  const { start, across, down } = frame
  const [before, after, above, below] = clearMm.map(mm => Math.min(quiet, Math.floor(mm / moduleMm + 0.25)))
  const values: number[] = []
  const isDark: boolean[] = []
  for (let row = -above!; row < rows + below!; row++)
    for (let column = -before!; column < columns + after!; column++) {
      const [u, v] = [(column + 0.5) * stepX, (row + 0.5) * stepY]
      const x = start[0] + across[0] * u + down[0] * v
      const y = start[1] + across[1] * u + down[1] * v
      values.push(meanAt(surface, x, y, aperturePart * moduleMm))
      const inside = row >= 0 && row < rows && column >= 0 && column < columns
      isDark.push(inside && dark[row * columns + column] === 1)
    }
  const most = values.reduce((a, b) => Math.max(a, b), 0)
  const least = values.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY)
  const symbolContrast = most - least
  const threshold = (most + least) / 2
  let modulation = symbolContrast > 0 ? 1 : 0
  values.forEach((value, i) => {
    const off = isDark[i]! !== reversed ? threshold - value : value - threshold
    modulation = Math.min(modulation, Math.max(0, (2 * off) / symbolContrast))
  })
  const grades = {
    symbolContrast: stepped(symbolContrast, contrastSteps),
    modulation: stepped(modulation, modulationSteps),
  }
  const grade = Math.min(grades.symbolContrast, grades.modulation) as Grade
  const report = `${grade.toFixed(1)}/${apertureName(aperturePart * moduleMm)}/660`
  return { symbolContrast, modulation, grades, grade, report }
}

/** Points across the aperture. */
const acrossAperture = 12

function meanAt(surface: Readable, x: number, y: number, diameter: number): number {
  let sum = 0
  let count = 0
  for (let j = 0; j < acrossAperture; j++)
    for (let i = 0; i < acrossAperture; i++) {
      const dx = ((i + 0.5) / acrossAperture - 0.5) * diameter
      const dy = ((j + 0.5) / acrossAperture - 0.5) * diameter
      if (dx * dx + dy * dy > (diameter / 2) ** 2) continue
      sum += surface.at(x + dx, y + dy)
      count++
    }
  return sum / count
}

function stepped(value: number, steps: readonly number[]): Grade {
  const step = steps.findIndex(least => value >= least - 1e-9)
  return (step < 0 ? 0 : 4 - step) as Grade
}
