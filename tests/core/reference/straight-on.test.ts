import { describe, expect, test } from 'vitest'
import { frameCamera } from '../../../core/reference/camera.ts'
import { panelRotation } from '../../../core/reference/pose.ts'
import type { Leaf, Solid } from '../../../core/reference/solid.ts'
import { panelLeaves, straightOn } from '../../../core/reference/straight-on.ts'
import { roomToTurn } from '../../../core/reference/turned-view.ts'
import { times, toTable } from '../../../core/reference/vector.ts'

const pose = (tiltForwardDeg: number, tiltSideDeg: number, turnDeg: number) => ({
  tiltForwardDeg,
  tiltSideDeg,
  turnDeg,
})
/** A leaf that a hand has turned by a pose, its middle some way out along its own normal. */
function leaf(name: string, held: ReturnType<typeof pose>, out: number, [w, h] = [60, 100]): Leaf {
  const turn = panelRotation(held)
  return {
    name,
    outline: [
      [-w! / 2, -h! / 2],
      [w! / 2, -h! / 2],
      [w! / 2, h! / 2],
      [-w! / 2, h! / 2],
    ],
    caliperMm: 0.4,
    turn,
    shift: [out * turn[0][2], out * turn[1][2], out * turn[2][2]],
  }
}
const box: Solid = {
  widthMm: 60,
  heightMm: 100,
  leaves: [
    leaf('front', pose(0, 0, 0), 20),
    leaf('right', pose(0, 90, 0), 30, [40, 100]),
    leaf('back', pose(0, 180, 0), 20),
    leaf('left', pose(0, -90, 0), 30, [40, 100]),
    leaf('lid', pose(-90, 0, 0), 50, [60, 40]),
    leaf('under the lid', pose(-90, 0, 0), 49, [60, 38]),
    leaf('tongue', pose(0, 0, 0), 19, [20, 10]),
  ],
}

describe('straight on', () => {
  test.each(box.leaves.map(one => [one.name, one] as const))('%s faces the eye, upright', (_, one) => {
    const held = straightOn(box, one, { eyeDistanceMm: 400 }, 1)
    const seen = times(panelRotation(held.pose), one.turn)
    for (let row = 0; row < 3; row++)
      for (let column = 0; column < 3; column++)
        expect(seen[row as 0]![column as 0]).toBeCloseTo(row === column ? 1 : 0, 9)
  })

  test('any turn is undone', () => {
    for (const held of [pose(20, 35, 70), pose(-50, 170, -130), pose(90, 20, 40), pose(-90, 0, 60)]) {
      const own = leaf('own', held, 0)
      const seen = times(panelRotation(straightOn(box, own, { eyeDistanceMm: 400 }, 1).pose), own.turn)
      expect(seen[0][0] + seen[1][1] + seen[2][2]).toBeCloseTo(3, 8)
    }
  })

  test('the picture shows it whole with the usual margin', () => {
    const lid = box.leaves[4]!
    const { pose: held, zoom } = straightOn(box, lid, { eyeDistanceMm: 400 }, 1.5)
    const camera = frameCamera(box, 400, 1.5, zoom)
    const rotation = times(panelRotation(held), lid.turn)
    const across = lid.outline.map(([x, y]) => {
      const [ex, ey, ez] = toTable(rotation, [x, y, 0])
      return [ex / (400 - 50 - ez), ey / (400 - 50 - ez)] as const
    })
    expect((camera.right - camera.left) / (2 * Math.max(...across.map(([x]) => x)))).toBeCloseTo(1.12, 6)
    expect(camera.left + camera.right).toBeCloseTo(0, 9)
    expect(camera.top).toBeGreaterThan(Math.max(...across.map(([, y]) => y)))
  })

  test('panels are the leaves that are seen, and of some size', () => {
    expect(panelLeaves(box).map(({ name }) => name)).toEqual(['front', 'right', 'back', 'left', 'lid'])
  })
})

describe('room to turn', () => {
  test('nothing turned has the whole view; a quarter turn of a high panel needs its height across', () => {
    expect(roomToTurn(box, [0, 180], 1).scale).toBeCloseTo(1, 12)
    expect(roomToTurn({ widthMm: 60, heightMm: 100 }, [90], 0.6).scale).toBeCloseTo(0.6, 9)
    // The diagonal of a square fits at 45°: its side times the root of two.
    expect(roomToTurn({ widthMm: 50, heightMm: 50 }, [0, 45], 1).scale).toBeCloseTo(Math.SQRT1_2, 9)
  })
})
