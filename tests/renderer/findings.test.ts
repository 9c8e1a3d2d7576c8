import { expect, it } from 'vitest'
import type { MaterialMap } from '../../core/material/map.ts'
import { mostCoats } from '../../renderer/stage/mapTextures.ts'
import { allFindings } from '../../renderer/state/findings.ts'
import { type PaintPlan, paintMap } from '../support/paint-map.ts'

const built = (map: MaterialMap) => ({ id: 'one', map, levels: [map], findings: [], look: null })

it('a plate that the picture on the table has no room for is told by its name', () => {
  const plan: PaintPlan = { size: 8, sideMm: 10, gratings: 0, whites: [], spots: [], varnish: false }
  const map = paintMap(plan, () => ({}))
  expect(allFindings(null, built(map), null)).toEqual([])
  const white = (i: number) => ({ name: `White ${i}` })
  const whites = Array.from({ length: mostCoats + 1 }, (_, i) => white(i + 1)) as unknown as typeof map.whites
  const [left, ...others] = allFindings(null, built({ ...map, whites }), null)
  expect(others).toEqual([])
  expect(left).toMatchObject({ severity: 'warning', code: 'not-on-screen', where: `White ${mostCoats + 1}` })
})
