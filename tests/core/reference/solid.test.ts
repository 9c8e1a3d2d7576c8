import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { frameCamera } from '../../../core/reference/camera.ts'
import { foldedSolid } from '../../../core/reference/folded.ts'
import { sceneOnLeaf } from '../../../core/reference/on-leaf.ts'
import { fromLeaf, panelRotation, standIn, toTable } from '../../../core/reference/pose.ts'
import { renderTile } from '../../../core/reference/render.ts'
import { flatSolid, inObject, inside, meet, noHit } from '../../../core/reference/solid.ts'
import { tray, trayFolded, trayWithWindows, windowsFolded } from '../../support/carton.ts'
import { paintMap } from '../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../support/scene.ts'

const lamp = { azimuthDeg: 20, elevationDeg: 62, distanceMm: 400, diameterMm: 20 }
const plan = { size: 64, sideMm: 80, gratings: 1, whites: [], spots: [], varnish: false }
const map = paintMap(plan, () => ({
  metal: 1,
  cmyk: [0.2, 0, 0, 0],
  gratings: [
    {
      pitch: 1000,
      azimuth: 0.3,
      grooveDepth: 80,
      groove: { shape: 'sinusoid' },
      share: 1,
      spreadAlong: 0,
      spreadAcross: 0,
    },
  ],
}))
const scene = sceneFor(oneLamp(lamp, 0.2))
const tables = bakingsOf(scene, map).map(bakeTables)
const size = { width: 64, height: 64, grid: 1 }
const whole = { top: 0, bottom: 64 }

describe('a leaf', () => {
  test('is lit as the panel would be in its place', () => {
    // A leaf turned about the vertical is the panel tilted by as much.
    const flat = flatSolid(map)
    const a = (25 * Math.PI) / 180
    const turn = [
      [Math.cos(a), 0, Math.sin(a)],
      [0, 1, 0],
      [-Math.sin(a), 0, Math.cos(a)],
    ] as const
    const turned = { ...flat, leaves: [{ ...flat.leaves[0]!, turn }] }
    const tilted = { ...scene.view, pose: { tiltForwardDeg: 0, tiltSideDeg: 25, turnDeg: 0 } }
    const byPose = renderTile({ ...scene, view: tilted }, pyramid(map), tables, size, whole)
    const byLeaf = renderTile({ ...scene, solid: turned }, pyramid(map), tables, size, whole)
    let most = 0
    for (let i = 0; i < byPose.length; i++) most = Math.max(most, Math.abs(byPose[i]! - byLeaf[i]!))
    expect(most).toBeLessThan(1e-6)
  })

  test('keeps the distance of everything to lamp and eye, wherever it stands', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), amount => {
        const standing = standIn(scene)
        for (const leaf of trayFolded(amount).leaves) {
          const own = fromLeaf(standing, leaf)
          const [x, y] = leaf.outline[0]!
          const [ox, oy, oz] = inObject(leaf, x, y, 0)
          const near = Math.hypot(own.lamp[0] - x, own.lamp[1] - y, own.lamp[2])
          const far = Math.hypot(standing.lamp[0] - ox, standing.lamp[1] - oy, standing.lamp[2] - oz)
          // Far away from its frame's origin a leaf without art loses digits: 1e5 mm of 2⁻⁵².
          expect(near).toBeCloseTo(far, 6)
        }
      }),
      { numRuns: 50 },
    )
  })
})

describe('a ray', () => {
  const box = flatSolid({ widthMm: 20, heightMm: 10 }).leaves[0]!
  const leaf = { ...box, caliperMm: 0.5 }

  test('meets the printed face from above, the back from below and an edge from the side', () => {
    const print = noHit()
    expect(meet(leaf, [0, 0, 100], 0.05, 0, -1, print)).toBe(true)
    expect(print).toMatchObject({ face: 'print', nz: 1 })
    expect(print.t).toBeCloseTo(100, 9)
    const back = noHit()
    expect(meet(leaf, [0, 0, -100], 0.05, 0, 1, back)).toBe(true)
    expect(back).toMatchObject({ face: 'board', nz: -1 })
    expect(back.t).toBeCloseTo(99.5, 9)
    const edge = noHit()
    expect(meet(leaf, [100, 0, -0.25], -1, 0, 0, edge)).toBe(true)
    expect(edge).toMatchObject({ face: 'board', nx: 1 })
    expect(edge.t).toBeCloseTo(90, 9)
  })

  test('passes a creased side, and what is nearer stays', () => {
    const creased = { ...leaf, cut: [true, false, true, true] }
    expect(meet(creased, [100, 0, -0.25], -1, 0, 0, noHit())).toBe(false)
    const hit = { ...noHit(), t: 50 }
    expect(meet(leaf, [0, 0, 100], 0, 0, -1, hit)).toBe(false)
  })

  test('a place on a shared edge belongs to one of two neighbours', () => {
    const left = [
      [0, 0],
      [5, 0],
      [5, 5],
      [0, 5],
    ] as const
    const right = [
      [5, 0],
      [9, 0],
      [9, 5],
      [5, 5],
    ] as const
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 4.99, noNaN: true }), y => {
        expect(Number(inside(left, 5, y)) + Number(inside(right, 5, y))).toBe(1)
      }),
    )
  })
})

describe('a folded blank', () => {
  test('is flat and whole at 0, with no bends', () => {
    const solid = trayFolded(0)
    expect(solid.leaves.map(({ name }) => name)).toEqual(tray().panels.map(({ name }) => name))
    const heights = solid.leaves.flatMap(leaf => leaf.outline.map(([x, y]) => inObject(leaf, x, y, 0)[2]))
    expect(Math.max(...heights) - Math.min(...heights)).toBeLessThan(1e-9)
    expect(solid.widthMm).toBeCloseTo(Math.hypot(80, 0.6), 9)
  })

  test('has a bend over every crease that turned, which goes on past both faces by 0.03 mm', () => {
    const blank = tray()
    const solid = trayFolded(0.7)
    for (const hinge of blank.hinges) {
      const bend = solid.leaves.find(({ name }) => name === hinge.name)!
      const parent = solid.leaves.find(({ name }) => name === hinge.parent)!
      const child = solid.leaves.find(({ name }) => name === hinge.child)!
      for (const [x, y] of bend.outline) {
        const corner = inObject(bend, x, y, 0)
        const least = Math.min(
          ...[parent, child].flatMap(panel =>
            panel.outline.map(([px, py]) => {
              const [qx, qy, qz] = inObject(panel, px, py, 0)
              return Math.hypot(corner[0] - qx, corner[1] - qy, corner[2] - qz)
            }),
          ),
        )
        // The tongue is narrower than the lid that carries it by 2 mm a side; all others end where their crease does.
        if (hinge.child === 'tongue') expect(least, hinge.name).toBeLessThan(2.5)
        else expect(least, hinge.name).toBeCloseTo(0.03, 9)
      }
    }
  })

  test('a flat blank that is tilted by 20° either way is whole in the picture', () => {
    const solid = trayFolded(0)
    for (const [tiltForwardDeg, tiltSideDeg] of [
      [20, 0],
      [-20, 0],
      [0, 20],
      [0, -20],
    ] as const) {
      const turn = panelRotation({ tiltForwardDeg, tiltSideDeg, turnDeg: 0 })
      const eye = 400
      const { left, right, bottom, top } = frameCamera(solid, eye, 1.6)
      for (const leaf of solid.leaves)
        for (const [x, y] of leaf.outline) {
          const [px, py, pz] = toTable(turn, inObject(leaf, x, y, 0))
          const [tx, ty] = [px / (eye - pz), py / (eye - pz)]
          expect(tx > left && tx < right && ty > bottom && ty < top, leaf.name).toBe(true)
        }
    }
  })

  test('creased sides show no edge, cut ones do', () => {
    const blank = tray()
    const front = foldedSolid(blank, 1, {}, new Map(), map).leaves.find(({ name }) => name === 'front')!
    expect(front.cut).toEqual([false, false, false, false])
    const left = trayFolded(1).leaves.find(({ name }) => name === 'left')!
    expect(left.cut).toEqual([true, false, true, true])
  })

  test('beside the art it is bare board', () => {
    const bare = foldedSolid(tray(), 0, {}, new Map(), map)
    const blank = renderTile({ ...scene, solid: bare }, pyramid(map), tables, size, whole)
    const empty = paintMap(plan, () => ({ metal: 1, cmyk: [0, 0, 0, 0], gratings: [] }))
    const plain = renderTile({ ...scene, solid: trayFolded(0) }, pyramid(empty), tables, size, whole)
    let most = 0
    for (let i = 0; i < plain.length; i++) most = Math.max(most, Math.abs(plain[i]! - blank[i]!))
    expect(most).toBeLessThan(1e-6)
  })
})

describe('a window', () => {
  const solid = windowsFolded(1)
  const front = solid.leaves.find(({ name }) => name === 'front')!
  // Middle of the round window, mm from the middle of art of 80 × 80 mm over the blank.
  const [x, y] = [0, -2]

  test('lets a ray through its opening, from both sides, and stops one beside it', () => {
    for (const [z, dz] of [
      [100, -1],
      [-100, 1],
    ] as const) {
      expect(meet(front, [x, y, z], 0, 0, dz, noHit())).toBe(false)
      expect(meet(front, [x + 10.5, y, z], 0, 0, dz, noHit())).toBe(false)
      expect(meet(front, [x + 11.5, y, z], 0, 0, dz, noHit())).toBe(true)
    }
  })

  test('has a rim as thick as the board, which looks into the opening', () => {
    const hit = noHit()
    expect(meet(front, [x, y, -0.3], 1, 0, 0, hit)).toBe(true)
    expect(hit.face).toBe('board')
    expect(hit.nx).toBeCloseTo(-1, 1)
    // Of a polygon of 24 sides round a circle of 11 mm: between its apothem and its radius.
    expect(hit.t).toBeGreaterThan(11 * Math.cos(Math.PI / 24) - 1e-9)
    expect(hit.t).toBeLessThan(11 + 1e-9)
    expect(meet(front, [x, y, -0.7], 1, 0, 0, noHit())).toBe(false)
  })

  test('is no place of the art that a leaf shows', () => {
    const flat = { ...scene, solid: windowsFolded(0) }
    const art = { widthMm: 80, heightMm: 80 }
    expect(sceneOnLeaf(flat, art, 40, 38)).toBeNull()
    expect(sceneOnLeaf(flat, art, 40, 50)?.leaf?.name).toBe('front')
  })

  test('shows in the picture what lies behind it: the surround where nothing does', () => {
    const alone = (blank: ReturnType<typeof tray>) => ({
      ...foldedSolid(blank, 0, {}, new Map(), { widthMm: 80, heightMm: 80 }),
    })
    const middleOf = (one: ReturnType<typeof alone>) => {
      const picture = renderTile({ ...scene, solid: one }, pyramid(map), tables, size, whole)
      return picture[4 * (32 * 64 + 32) + 3]
    }
    expect(middleOf(alone(tray()))).toBe(1)
    expect(middleOf(alone(trayWithWindows()))).toBe(0)
  })
})
