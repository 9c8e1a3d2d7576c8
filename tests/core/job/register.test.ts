import { expect, test } from 'vitest'
import { asDrawn } from '../../../core/checks/register/groups.ts'
import { setRegister } from '../../../core/job/edit-checks.ts'
import { blankJob } from '../../../core/job/new.ts'
import { inRegister, misfitFrom, motionOf, motionsOf, registerFrom } from '../../../core/job/register.ts'

test('a job has degrees and percent, the checks have radians and ratios', () => {
  expect(motionOf({ xMm: 0.3, yMm: -0.2, turnDeg: 180, stretchXPercent: 5, stretchYPercent: -1 })).toEqual({
    dxMm: 0.3,
    dyMm: -0.2,
    turn: Math.PI,
    stretchX: 1.05,
    stretchY: 0.99,
  })
  expect(motionOf(inRegister)).toEqual(asDrawn)
  const there = { xMm: 1.25, yMm: 0.5, turnDeg: 0.02, stretchXPercent: 0.06, stretchYPercent: -0.06 }
  const back = misfitFrom(motionOf(there))
  for (const [field, value] of Object.entries(there))
    expect(back[field as keyof typeof there]).toBeCloseTo(value, 9)
})

test('a register becomes motions and the other way, without groups that fit or are not known', () => {
  const white = { ...inRegister, xMm: 0.4 }
  expect(motionsOf({ white, varnish: white })).toEqual({ white: { ...asDrawn, dxMm: 0.4 } })
  const found = registerFrom({
    white: { ...asDrawn, dxMm: 0.400_000_4, turn: (0.02 * Math.PI) / 180 },
    colour: asDrawn,
  })
  expect(found).toEqual({ white: { ...inRegister, xMm: 0.4, turnDeg: 0.02 } })
  const job = setRegister(found)(blankJob(20, 10))
  expect(job.register).toBe(found)
  expect(setRegister({})(job).register).toEqual({})
})
