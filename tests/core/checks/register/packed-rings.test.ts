import { expect, test } from 'vitest'
import { packedRings, ringsOf } from '../../../../core/checks/register/packed-rings.ts'

test('packed rings come back corner by corner', () => {
  const rings = [
    [
      [0.1, -2.00005],
      [3, 4],
      [1e-4, 7 / 3],
    ],
    [],
    [
      [5, 6],
      [7, 8],
    ],
  ] as const
  expect(ringsOf(packedRings(rings))).toEqual(rings)
  expect(ringsOf(packedRings([]))).toEqual([])
  expect(packedRings(rings).ends.length).toBe(rings.length)
})
