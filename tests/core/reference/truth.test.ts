import { expect, test } from 'vitest'
import { allowed, allSweeps, differences } from '../../report/truth.ts'

// Every 23rd of all combinations of grating, direction, ink, lamp size and spectrum: prime to every list's length, so
// that each value of each takes its turn. `npm run report` measures them all.
test('the band samples stay with the sum over every nanometre', () => {
  const some = allSweeps().filter((_, i) => i % 23 === 0)
  let places = 0
  for (const sweep of some) {
    const found = differences(sweep)
    places += found.length
    expect(Math.max(0, ...found), JSON.stringify(sweep)).toBeLessThanOrEqual(allowed(sweep))
  }
  expect(places).toBeGreaterThan(500)
})
