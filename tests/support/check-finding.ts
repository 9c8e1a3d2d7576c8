import type { CheckFinding } from '../../core/checks/finding.ts'

/** A finding of a check, with what a test says otherwise. */
export const checkFinding = (change: Partial<CheckFinding> = {}): CheckFinding => ({
  severity: 'error',
  code: 'text-lost',
  where: 'text "Comet 1:400"',
  message: 'cannot be read at 20° forward',
  fix: 'Lay white under it.',
  check: 'legibility',
  key: 'text-lost:Comet 1:400',
  box: { leftMm: 10, bottomMm: 20.25, rightMm: 32, topMm: 24 },
  held: { tiltForwardDeg: 20, tiltSideDeg: 0, turnDeg: 0 },
  measured: { value: 1.3, unit: ':1' },
  limit: { key: 'text.contrast', value: 4.5, unit: ':1', status: 'standard', source: 'WCAG 2.2, 1.4.3' },
  remedy: null,
  ...change,
})

export const waiverOf = (key: string) => ({
  key,
  reason: 'a caption <nobody> reads',
  by: 'I. Halden',
  on: '2026-03-31',
})
