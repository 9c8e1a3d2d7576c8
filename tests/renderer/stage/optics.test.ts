import { expect, test } from 'vitest'
import { bakeTables } from '../../../core/optics/bake.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { opticsTables } from '../../../renderer/stage/optics.ts'
import { everyPixelLit } from '../../support/bench-scenes.ts'

const { map, scene } = everyPixelLit(8)
const [tables] = bakingsOf(scene, map).map(bakeTables) as [ReturnType<typeof bakeTables>]
const fine = opticsTables([tables]).uCumulative!
const steps = (fine.width - 1) / (tables.cumulative.width - 1)

test('the table of light on the screen keeps every whole nanometre', () => {
  expect(Number.isInteger(steps)).toBe(true)
  for (let i = 0; i < tables.cumulative.width; i++)
    for (let c = 0; c < 3; c++) expect(fine.data[4 * steps * i + c]).toBe(tables.cumulative.data[4 * i + c])
})

test('the nearest step of it is never farther off than half a step of the steepest light', () => {
  const { width, data } = tables.cumulative
  for (let c = 0; c < 3; c++) {
    let steepest = 0
    for (let i = 1; i < width; i++) steepest = Math.max(steepest, data[4 * i + c]! - data[4 * (i - 1) + c]!)
    for (let at = 0; at < width - 1; at += 0.0371) {
      const left = Math.floor(at)
      const exact = data[4 * left + c]! + (at - left) * (data[4 * left + 4 + c]! - data[4 * left + c]!)
      const nearest = fine.data[4 * Math.round(at * steps) + c]!
      // Single precision rounds a sum of about one.
      expect(Math.abs(nearest - exact)).toBeLessThanOrEqual(steepest / (2 * steps) + 1e-6)
    }
  }
})
