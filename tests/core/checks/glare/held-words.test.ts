import { expect, test } from 'vitest'
import { heldWords } from '../../../../core/checks/glare/held-words.ts'

/** Our own words; signs as `PanelPose` has them: top away +, right side away +, turned counter-clockwise +. */
test.each([
  [0, 0, 0, 'straight on'],
  [0.4, -0.4, 0.3, 'straight on'],
  [12.3, 0, 0, 'top 12° away'],
  [-59.6, 3, 15, 'top 60° nearer, right side 3° away, turned 15° counter-clockwise'],
  [0, -41, -48.2, 'right side 41° nearer, turned 48° clockwise'],
])('%d° forward, %d° sideways, turned %d°', (tiltForwardDeg, tiltSideDeg, turnDeg, words) => {
  expect(heldWords({ tiltForwardDeg, tiltSideDeg, turnDeg })).toBe(words)
})
