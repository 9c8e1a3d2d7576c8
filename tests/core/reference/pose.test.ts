import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { cameraRays, frameCamera, margin, panelPoint } from '../../../core/reference/camera.ts'
import {
  lampPosition,
  panelRotation,
  stand,
  toPanel,
  toTable,
  type Vec3,
} from '../../../core/reference/pose.ts'

const level = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
const angle = fc.double({ min: -180, max: 180, noNaN: true })
const pose = fc.record({ tiltForwardDeg: angle, tiltSideDeg: angle, turnDeg: angle })
const near = (a: Vec3, b: Vec3) => {
  // A dozen float64 products of numbers below 1000: 1e-10 leaves two digits of room.
  for (let i = 0; i < 3; i++) expect(Math.abs((a[i] ?? 0) - (b[i] ?? 0))).toBeLessThan(1e-10)
}

describe('the panel in the hand', () => {
  test('each movement does what its name says', () => {
    const top: Vec3 = [0, 1, 0]
    const right: Vec3 = [1, 0, 0]
    // The eye is at +z, so "away" is −z. Definitions of the pose.
    expect(toTable(panelRotation({ ...level, tiltForwardDeg: 30 }), top)[2]).toBeCloseTo(-0.5, 12)
    expect(toTable(panelRotation({ ...level, tiltSideDeg: 30 }), right)[2]).toBeCloseTo(-0.5, 12)
    near(toTable(panelRotation({ ...level, turnDeg: 90 }), right), [0, 1, 0])
    // Turn comes first: a panel turned by 90° that is tilted forward has its right side away.
    expect(toTable(panelRotation({ ...level, turnDeg: 90, tiltForwardDeg: 30 }), right)[2]).toBeCloseTo(
      -0.5,
      12,
    )
  })

  test('is a rotation: lengths and the way back stay', () => {
    fc.assert(
      fc.property(pose, p => {
        const r = panelRotation(p)
        near(toPanel(r, toTable(r, [3, -4, 12])), [3, -4, 12])
        expect(Math.hypot(...toTable(r, [3, -4, 12]))).toBeCloseTo(13, 10)
      }),
    )
  })

  test('turning lamp and panel together about the line of sight changes nothing seen from the panel', () => {
    fc.assert(
      fc.property(angle, angle, angle, (azimuthDeg, turnDeg, by) => {
        const lamp = { azimuthDeg, elevationDeg: 50, distanceMm: 400, diameterMm: 20 }
        const before = stand(lamp, { ...level, turnDeg }, 400)
        const after = stand(
          { ...lamp, azimuthDeg: azimuthDeg + by },
          { ...level, turnDeg: turnDeg + by },
          400,
        )
        near(before.lamp, after.lamp)
        near(before.eye, after.eye)
      }),
    )
  })

  test('azimuth counts from the right, counter-clockwise; elevation from the plane', () => {
    near(lampPosition({ azimuthDeg: 90, elevationDeg: 0, distanceMm: 400, diameterMm: 4 }), [0, 400, 0])
    near(lampPosition({ azimuthDeg: 0, elevationDeg: 90, distanceMm: 400, diameterMm: 4 }), [0, 0, 400])
  })
})

describe('the camera', () => {
  const lamp = { azimuthDeg: 0, elevationDeg: 60, distanceMm: 400, diameterMm: 20 }

  const panel = { widthMm: 100, heightMm: 150 }

  test('shows the untilted panel whole with its margin, whatever the shape of the picture', () => {
    for (const [w, h] of [
      [400, 200],
      [200, 400],
      [300, 300],
    ] as const) {
      const rays = cameraRays(frameCamera(panel, 420, w / h), stand(lamp, level, 420), w, h)
      const upperLeft = panelPoint(rays, 0, 0)
      const lowerRight = panelPoint(rays, w, h)
      const across = lowerRight![0] - upperLeft![0]
      const up = upperLeft![1] - lowerRight![1]
      expect(Math.min(across / 100, up / 150)).toBeCloseTo(1 + margin, 10)
      expect(across / up).toBeCloseTo(w / h, 10)
    }
  })

  test('a closer look keeps the place in its middle and magnifies around it', () => {
    const standing = stand(lamp, level, 400)
    const whole = cameraRays(frameCamera(panel, 400, 1.5), standing, 300, 200)
    const close = cameraRays(frameCamera(panel, 400, 1.5, { scale: 4, x: 0.5, y: -0.25 }), standing, 300, 200)
    near([...panelPoint(close, 150, 100)!, 0], [...panelPoint(whole, 200, 125)!, 0])
    near([...panelPoint(close, 154, 104)!, 0], [...panelPoint(whole, 201, 126)!, 0])
  })

  test('the middle of the picture sees the middle of the panel, however it is held', () => {
    fc.assert(
      fc.property(fc.double({ min: -80, max: 80, noNaN: true }), angle, (tilt, turnDeg) => {
        const standing = stand(lamp, { tiltForwardDeg: tilt, tiltSideDeg: tilt / 2, turnDeg }, 400)
        const seen = panelPoint(cameraRays(frameCamera(panel, 400, 1.5), standing, 300, 200), 150, 100)
        near([...seen!, 0], [0, 0, 0])
      }),
    )
  })

  test('the back of the panel shows no print', () => {
    const standing = stand(lamp, { ...level, tiltSideDeg: 120 }, 400)
    expect(panelPoint(cameraRays(frameCamera(panel, 400, 1), standing, 100, 100), 50, 50)).toBeNull()
  })
})

describe('an eye that goes round', () => {
  const lamp = { azimuthDeg: 30, elevationDeg: 50, distanceMm: 500, diameterMm: 20 }
  const at = fc.record({
    sideDeg: fc.double({ min: -80, max: 80, noNaN: true }),
    riseDeg: fc.double({ min: -80, max: 80, noNaN: true }),
  })

  test('stands where it is said to, and looks at the middle', () => {
    fc.assert(
      fc.property(pose, at, (held, eyeAt) => {
        const { rotation, view, eye } = stand(lamp, held, 400, eyeAt)
        const [side, rise] = [eyeAt.sideDeg, eyeAt.riseDeg].map(deg => (deg * Math.PI) / 180) as [
          number,
          number,
        ]
        const towards: Vec3 = [
          Math.sin(side) * Math.cos(rise),
          Math.sin(rise),
          Math.cos(side) * Math.cos(rise),
        ]
        near(toTable(rotation, eye), [400 * towards[0], 400 * towards[1], 400 * towards[2]])
        near(toTable(view, eye), [0, 0, 400])
      }),
    )
  })

  test('keeps its horizon level: what lies along the picture lies in the plane of the table’s x and z', () => {
    fc.assert(
      fc.property(at, eyeAt => {
        const { view } = stand(lamp, level, 400, eyeAt)
        expect(Math.abs(view[0][1])).toBeLessThan(1e-12)
      }),
    )
  })

  test('sees what a panel tilted the other way shows', () => {
    for (const deg of [-50, -7, 20, 71]) {
      const sideways = stand(lamp, level, 400, { sideDeg: deg, riseDeg: 0 }).view
      const upwards = stand(lamp, level, 400, { sideDeg: 0, riseDeg: deg }).view
      for (let i = 0; i < 3; i++) {
        near(sideways[i]!, panelRotation({ ...level, tiltSideDeg: -deg })[i]!)
        near(upwards[i]!, panelRotation({ ...level, tiltForwardDeg: -deg })[i]!)
      }
    }
  })

  test('leaves lamps alone', () => {
    near(stand(lamp, level, 400, { sideDeg: 40, riseDeg: 20 }).lamp, stand(lamp, level, 400).lamp)
  })
})
