import { describe, expect, test } from 'vitest'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { fresnel } from '../../../core/optics/fresnel.ts'
import { sinusoid } from '../../../core/optics/groove.ts'
import type { Grating } from '../../../core/optics/matter.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { displayPicture, surroundCode } from '../../../core/reference/display-picture.ts'
import { asPrinted, filmReflectance, type Overlay } from '../../../core/reference/overlay.ts'
import { groundOf, layOf, liftPart, reachOf } from '../../../core/reference/overlay-lay.ts'
import { standIn } from '../../../core/reference/pose.ts'
import { renderTile } from '../../../core/reference/render.ts'
import type { Scene } from '../../../core/reference/scene.ts'
import { flatSolid } from '../../../core/reference/solid.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../support/paint-map.ts'
import { discLamp, oneLamp, sceneFor } from '../../support/scene.ts'

const groove: Grating = {
  pitch: 1000,
  azimuth: 0.3,
  grooveDepth: 80,
  groove: sinusoid,
  share: 0.6,
  spreadAlong: 0,
  spreadAcross: 0,
}
const plan: PaintPlan = {
  size: 64,
  sideMm: 80,
  gratings: 1,
  whites: [{ opacity: 0.8, hits: 1 }],
  spots: [[48, 68, 48]],
  varnish: false,
}
/** Stripes of ink, a white wedge, rings below and a strip of bare board. */
const painted = (x: number, y: number): PaintStack => ({
  gratings: [{ ...groove, azimuth: Math.atan2(y, x) }],
  metal: x > 0.8 ? 0 : 1,
  cmyk: [Math.sin(9 * x) > 0 ? 0.7 : 0, y > 0.4 ? 0.5 : 0, 0, 0],
  whites: [Math.abs(y) < 0.3 ? (x + 1) / 2 : 0],
  spots: [y < -0.6 ? 1 : 0],
})
const oblique = sceneFor(oneLamp({ azimuthDeg: 20, elevationDeg: 62, distanceMm: 400, diameterMm: 20 }))
const wide = discLamp({ azimuthDeg: 150, elevationDeg: 42, distanceMm: 400, diameterMm: 120 })
const bare = { index: 1, thicknessMm: 0, gapMm: 0, roughness: 0.01, registerMm: [0, 0] } as const
const laid = (overlay: Partial<Overlay>, scene: Scene = oblique): Scene => ({
  ...scene,
  view: { ...scene.view, overlay: { ...asPrinted, ...overlay } },
})

function picture(scene: Scene, paint = painted, p = plan, size = 64) {
  const map = paintMap(p, paint)
  const tables = bakingsOf(scene, map).map(bakeTables)
  const shape = { width: size, height: size, grid: 1 }
  return renderTile(scene, pyramid(map), tables, shape, { top: 0, bottom: size })
}

/** Largest difference of two pictures, over the brightest place of the first. */
function apart(a: Float32Array, b: Float32Array): number {
  let most = 0
  let difference = 0
  for (let i = 0; i < a.length; i++) {
    most = Math.max(most, a[i]!)
    difference = Math.max(difference, Math.abs(a[i]! - b[i]!))
  }
  return difference / most
}

describe('a film without surfaces that lies on the board', () => {
  test('shows what the print shows', () => {
    // Two lamps, one so wide that its outline counts; the board's own gloss, which a film covers, is out of their sight.
    const low = { ...oblique.light.lamps[0].pose, elevationDeg: 48 }
    const lamps = [discLamp(low), wide] as const
    const scene: Scene = { ...oblique, light: { ...oblique.light, lamps } }
    // Sums are kept in 32-bit floats; products of roots of equal numbers add a few units of 64-bit ones.
    expect(apart(picture(scene), picture(laid({ laid: 'film', film: bare }, scene)))).toBeLessThan(2e-7)
  })

  test('so does it in a room, but for the gloss of the board’s own surface, which lies under white and ink then', () => {
    const room: Scene = { ...oblique, light: { ...oblique.light, roomLevel: 0.4 } }
    const clear = (): PaintStack => ({ gratings: [groove] })
    expect(
      apart(picture(room, clear), picture(laid({ laid: 'film', film: bare }, room), clear)),
    ).toBeLessThan(2e-7)
    const print = picture(room)
    const film = picture(laid({ laid: 'film', film: bare }, room))
    // The gloss is at most what one surface of the coat throws back of the room, and it is only ever taken away.
    const most = 0.4 * fresnel(Math.cos(0.2), 1.5) * 1.2
    for (let i = 0; i < print.length; i++) {
      expect(film[i]!).toBeLessThan(print[i]! + 1e-6)
      expect(film[i]!).toBeGreaterThan(print[i]! - most)
    }
  })
})

describe('what is there', () => {
  test('the print with all its leaves is no overlay, nor is a carton', () => {
    const panel = { widthMm: 80, heightMm: 60 }
    expect(layOf(laid({}), panel)).toBeNull()
    expect(layOf(oblique, panel)).toBeNull()
    expect(layOf({ ...laid({ lift: 1 }), solid: flatSolid(panel) }, panel)).toBeNull()
    const lay = layOf(laid({ lift: 1 }), panel)!
    expect([lay.white.height, lay.inks.height]).toEqual([80 * liftPart, 160 * liftPart])
    // 0.1 mm of n = 1.5 looks two thirds as thick: Born & Wolf, section 4.4, a plane surface near the axis.
    const proof = layOf(laid({ laid: 'film' }), panel)!
    expect(proof.inks.height - proof.white.height).toBeCloseTo(0.1 / 1.5, 12)
  })

  test('a hidden leaf is one that was never printed', () => {
    const { board, white, overprint } = asPrinted.shown
    const pairs = [
      [{ board, white: false, overprint }, (s: PaintStack): PaintStack => ({ ...s, whites: [0] })],
      [
        { board, white, overprint: false },
        (s: PaintStack): PaintStack => ({ ...s, cmyk: [0, 0, 0, 0], spots: [0] }),
      ],
    ] as const
    for (const [shown, without] of pairs) {
      const hidden = picture(laid({ shown }))
      expect(
        apart(
          picture(oblique, (x, y) => without(painted(x, y))),
          hidden,
        ),
      ).toBeLessThan(2e-7)
    }
  })

  test('without any leaf the ground is seen, and clear film over nothing hides none of it but by its surfaces', () => {
    const none = picture(laid({ shown: { board: false, white: false, overprint: false } }))
    expect(none.every(v => v === 0)).toBe(true)
    const dark: Scene = { ...oblique, view: { ...oblique.view, exposureStops: 1 } }
    const clear = laid({ shown: { board: false, white: false, overprint: true } }, dark)
    const codes = displayPicture(
      picture(clear, () => ({})),
      clear,
      8,
    )
    // Print without ink and without a film: nothing at all; one 8-bit step of rounding.
    for (const code of codes) expect(Math.abs(code - 255 * surroundCode)).toBeLessThanOrEqual(1)
    const lifted = laid({ lift: 0.5, shown: { board: false, white: false, overprint: true } }, dark)
    const light = picture(lifted, () => ({}))
    const middle = 4 * (32 * 64 + 32)
    const [, ground] = groundOf(lifted)
    // Straight on F = ((1.5 − 1) / (1.5 + 1))² = 0.04, and a plate of two surfaces passes (1 − F)/(1 + F).
    expect(light[middle + 1]! / ground).toBeCloseTo(0.96 / 1.04, 4)
  })
})

describe('a film', () => {
  test('throws back and passes all light between them', () => {
    expect(filmReflectance(0.04)).toBeCloseTo(2 * 0.04 * (1 / 1.04), 12)
    // The sum of all reflections of two surfaces, term by term.
    const F = 0.2
    let reflected = F
    let inside = (1 - F) * F
    for (let i = 0; i < 60; i++) {
      reflected += inside * (1 - F)
      inside *= F * F
    }
    expect(filmReflectance(F)).toBeCloseTo(reflected, 12)
  })

  test('never sends back more of an even room than comes in', () => {
    const even: Scene = {
      ...oblique,
      light: {
        lamps: [
          {
            ...oblique.light.lamps[0],
            pose: { ...oblique.light.lamps[0].pose, azimuthDeg: 180, elevationDeg: 2 },
          },
        ],
        roomLevel: 1,
      },
    }
    for (const tiltSideDeg of [8, 35, 58])
      for (const lift of [0, 0.02, 0.4])
        for (const held of ['print', 'film'] as const) {
          const pose = { tiltForwardDeg: 0, tiltSideDeg, turnDeg: 0 }
          const posed = { ...even, view: { ...even.view, pose } }
          const over = laid({ laid: held, lift, shown: { board: true, white: true, overprint: true } }, posed)
          const both = picture(over, (x, y) => ({ whites: [y > 0 ? 1 : 0], metal: x > 0 ? 1 : 0 }), plan, 16)
          // The lamp is behind the panel; the room is at most 1 anywhere.
          let most = 0
          for (let i = 1; i < both.length; i += 4) most = Math.max(most, both[i]!)
          expect(most, `${held} ${lift} ${tiltSideDeg}`).toBeLessThan(1)
          expect(most).toBeGreaterThan(0.3)
        }
  })
})

describe('leaves that lie apart', () => {
  /** Columns of the middle half of the picture's middle row in which the light falls by a fifth and more. */
  const falls = (light: Float32Array, size: number): number[] => {
    const out: number[] = []
    for (let x = size >> 2; x < (3 * size) >> 2; x++) {
      const at = (column: number) => light[4 * ((size >> 1) * size + column) + 1]!
      if (at(x) < 0.8 * at(x - 2) && at(x - 1) > 0.8 * at(x - 2)) out.push(x)
    }
    return out
  }

  test('an edge of ink over a mirror is seen twice, 2 h tan θ apart', () => {
    // Solid black right of the middle.
    const edge = (x: number): PaintStack => ({ gratings: [], metal: 1, cmyk: [0, 0, 0, x > 0 ? 1 : 0] })
    const size = 800
    const angle = 30
    // A lamp so large that the eye sees it in the mirror all over the panel: half a metre, at the distance of the eye.
    const lamp = discLamp({ azimuthDeg: 180, elevationDeg: 90 - 2 * angle, distanceMm: 400, diameterMm: 500 })
    const scene = sceneFor({ lamps: [lamp], roomLevel: 0 })
    const pose = { tiltForwardDeg: 0, tiltSideDeg: -angle, turnDeg: 0 }
    const lift = 0.1
    const map = { ...plan, gratings: 0, whites: [], spots: [], size: 1024 }
    const shown = { board: true, white: false, overprint: true }
    const held = laid({ lift, shown }, { ...scene, view: { ...scene.view, pose } })
    const light = picture(held, edge, map, size)
    const found = falls(light, size)
    expect(found.length).toBe(2)
    // By hand: eye and mirror image of the lamp's middle, both 400 mm away and 30° off the normal. h = 2 · 0.1 · 0.25 · 80 mm.
    const h = 2 * lift * liftPart * 80
    const { eye, view } = standIn(held)
    const lampX = -eye[0]
    // The eye's crossing: x + h (eyeX − x)/eyeZ = 0; the lamp's the same with its own place.
    const near = (-h * eye[0]) / (eye[2] - h)
    const far = (-h * lampX) / (eye[2] - h)
    expect(Math.abs(far - near)).toBeCloseTo(2 * h * Math.tan((angle * Math.PI) / 180), 0)
    const half = (80 * 1.12) / 2 / 400
    const column = (x: number): number => {
      const from = [x - eye[0], 0 - eye[1], -eye[2]] as const
      const along = (row: readonly [number, number, number]) =>
        row[0] * from[0] + row[1] * from[1] + row[2] * from[2]
      return (along(view[0]) / -along(view[2]) / half + 1) * (size / 2)
    }
    const expected = [column(near), column(far)].sort((a, b) => a - b)
    // A texel of ink is 80/1024 mm, a pixel 0.11 mm: an edge is found to a pixel and a half.
    expect(Math.abs(found[0]! - expected[0]!)).toBeLessThan(2)
    expect(Math.abs(found.at(-1)! - expected[1]!)).toBeLessThan(2)
  })

  test('lamp and eye may change places: what a mirror shows of inks is the same', () => {
    // Straight up the two crossings are the two ends of one ray: solid inks at either end filter it alike.
    const one = (side: number) =>
      picture(
        laid(
          { lift: 0.2, shown: { board: true, white: false, overprint: true } },
          sceneFor(
            oneLamp({ azimuthDeg: side > 0 ? 0 : 180, elevationDeg: 62, distanceMm: 400, diameterMm: 20 }),
          ),
        ),
        x => ({ gratings: [{ ...groove, azimuth: 0, share: 1 }], cmyk: [0, 0, 0, x * side > 0 ? 1 : 0] }),
        { ...plan, whites: [], spots: [] },
        64,
      )
    const right = one(1)
    const left = one(-1)
    let worst = 0
    let most = 0
    for (let y = 0; y < 64; y++)
      for (let x = 0; x < 64; x++) {
        const a = right[4 * (64 * y + x) + 1]!
        worst = Math.max(worst, Math.abs(a - left[4 * (64 * y + 63 - x) + 1]!))
        most = Math.max(most, a)
      }
    expect(most).toBeGreaterThan(0.5)
    expect(worst / most).toBeLessThan(1e-5)
  })

  test('the ground reaches as far as any leaf is seen', () => {
    const panel = { widthMm: 80, heightMm: 60 }
    const held = laid(
      { lift: 1 },
      { ...oblique, view: { ...oblique.view, pose: { tiltForwardDeg: 10, tiltSideDeg: 40, turnDeg: 0 } } },
    )
    const lay = layOf(held, panel)!
    const standing = standIn(held)
    const [x] = reachOf(lay, standing, panel)
    const [ex, , ez] = standing.eye
    // The farther corner of the overprint, seen on the board's plane.
    const seen = [-40, 40].map(corner => Math.abs(ex + ((corner - ex) * ez) / (ez - lay.inks.height)))
    expect(x).toBeCloseTo(Math.max(...seen, 40), 9)
  })
})
