import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lampTravel } from '../../core/job/travel.ts'
import { panelRotation } from '../../core/reference/pose.ts'
import {
  aroundZero,
  lampToPad,
  linesPerMm,
  lowestLampDeg,
  padToLamp,
  straightOn,
  tilted,
  tiltFromStraightOn,
  tiltLimitDeg,
} from '../../renderer/stage/angles.ts'

const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }
const angle = fc.double({ min: -89, max: 89, noNaN: true })

describe('angles', () => {
  it('tilt from straight-on is the angle of the panel normal, whatever the pose', () => {
    // A second way: the normal is the third column of the rotation, its z component the cosine.
    fc.assert(
      fc.property(angle, angle, angle, (tiltForwardDeg, tiltSideDeg, turnDeg) => {
        const pose = { tiltForwardDeg, tiltSideDeg, turnDeg }
        const cos = Math.min(1, panelRotation(pose)[2][2])
        const expected = (Math.acos(cos) * 180) / Math.PI
        // acos loses half the digits near 0.
        expect(Math.abs(tiltFromStraightOn(pose) - expected)).toBeLessThan(1e-5)
      }),
    )
    expect(tiltFromStraightOn(straightOn)).toBe(0)
  })

  it('a hand stops at the limit', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, min: -1e4, max: 1e4 }), by => {
        const pose = tilted(straightOn, by, -by)
        expect(Math.abs(pose.tiltForwardDeg)).toBeLessThanOrEqual(tiltLimitDeg)
        expect(Math.abs(pose.tiltSideDeg)).toBeLessThanOrEqual(tiltLimitDeg)
      }),
    )
  })

  it('pad and lamp are each other’s inverse', () => {
    const azimuth = fc.double({ min: -179.9, max: 180, noNaN: true })
    const elevation = fc.double({ min: lowestLampDeg, max: 89.9, noNaN: true })
    fc.assert(
      fc.property(azimuth, elevation, (azimuthDeg, elevationDeg) => {
        const back = padToLamp(...lampToPad({ azimuthDeg, elevationDeg }), lamp)
        expect(back.elevationDeg).toBeCloseTo(elevationDeg, 9)
        expect(Math.abs(aroundZero(back.azimuthDeg - azimuthDeg))).toBeLessThan(1e-6)
      }),
    )
  })

  it('beyond the rim the lamp stays above the table; straight above it keeps its azimuth', () => {
    expect(padToLamp(3, 0, lamp).elevationDeg).toBe(lowestLampDeg)
    expect(padToLamp(0, 0, lamp)).toMatchObject({ elevationDeg: 90, azimuthDeg: 90 })
  })

  it('the lamp’s travel is the great circle between its directions', () => {
    // A quarter round at 60° elevation: cos = sin² 60° = 3/4.
    const quarter = lampTravel(lamp, { ...lamp, azimuthDeg: 0 })
    expect(quarter).toBeCloseTo((Math.acos(0.75) * 180) / Math.PI, 9)
    expect(lampTravel(lamp, { ...lamp, elevationDeg: 90 })).toBeCloseTo(30, 9)
  })

  it('pitch and lines', () => {
    // 600 lines/mm is a pitch of 1667 nm; 1000 nm is 1000 lines/mm.
    expect(linesPerMm(1000)).toBe(1000)
    expect(linesPerMm(1e6 / 600)).toBeCloseTo(600, 9)
  })
})
