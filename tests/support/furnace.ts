import type { LightSource } from '../../core/color/spectrum.ts'
import type { XYZ } from '../../core/color/xyz.ts'
import type { Stack } from '../../core/optics/matter.ts'
import type { Direction } from '../../core/optics/rays.ts'
import type { Surround } from '../../core/optics/room.ts'
import { type Board, defaultBoard } from '../../core/optics/scene.ts'
import { seen } from '../../core/optics/stack.ts'
import { raysOf, toward } from './optics.ts'

const axes: readonly Direction[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
]

/** Six soft rooms, one with its brightest part along each half axis: together they are as bright from everywhere. */
export const evenRooms: readonly Surround[] = axes.map(up => ({ up, level: 1 }))
/** Σ 0.2 + 0.8 ((1 + c) / 2)² over the six: the cosines c sum to 0 and their squares to 2. */
export const evenRadiance = 6 * 0.2 + (0.8 / 4) * (6 + 2)

/** What a stack sends to an eye out of a room of radiance 1 from everywhere, over perfect white. */
export function inFurnace(
  stack: Stack,
  eye: Direction,
  illuminant: LightSource = 'D65',
  board: Board = defaultBoard,
): XYZ {
  const sum = [0, 0, 0]
  for (const room of evenRooms)
    seen(stack, raysOf(toward(0), eye), illuminant, board, room).room.forEach((v, i) => {
      sum[i]! += v / evenRadiance
    })
  return [sum[0]!, sum[1]!, sum[2]!]
}

/** A light of one wavelength. */
export const onlyAt = (nm: number): LightSource => ({
  startNm: 380,
  stepNm: 1,
  values: Array.from({ length: 401 }, (_, i) => (380 + i === nm ? 1 : 0)),
})
