import { expect, test, vi } from 'vitest'
import { watchArt } from '../../renderer/state/watch.ts'
import { openedDesk } from '../support/fake-desk.ts'

/** Our own rules, no outside source. */

test('art that another program saves is read anew once, also where it was saved before the first look', async () => {
  let stands = 'saved again'
  const desk = await openedDesk({ over: { artState: async () => stands } })
  const read = () => desk.host.asked.filter(name => name === 'importArt').length
  const looks = () => desk.host.asked.filter(name => name === 'artState').length
  const end = watchArt(desk, 5)
  await vi.waitFor(() => expect(read()).toBe(2))
  const seen = looks()
  await vi.waitFor(() => expect(looks()).toBeGreaterThan(seen + 4))
  expect(read()).toBe(2)
  stands = 'as it was'
  const then = looks()
  await vi.waitFor(() => expect(looks()).toBeGreaterThan(then + 4))
  end()
  expect(read()).toBe(2)
})
