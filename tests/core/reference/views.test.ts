import { describe, expect, it } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import type { XYZ } from '../../../core/color/xyz.ts'
import type { MaterialMap } from '../../../core/material/map.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { stackAt } from '../../../core/material/sample.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import type { Direction } from '../../../core/optics/rays.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { seen, underLamp } from '../../../core/optics/stack.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { cameraRays, frameCamera, panelPoint } from '../../../core/reference/camera.ts'
import { aim, lightOf } from '../../../core/reference/light.ts'
import { panelRotation, stand, toTable, type Vec3 } from '../../../core/reference/pose.ts'
import { renderTile } from '../../../core/reference/render.ts'
import { MapSampler } from '../../../core/reference/sample.ts'
import type { Scene } from '../../../core/reference/scene.ts'
import { emptySite, shadeAll } from '../../../core/reference/shade.ts'
import { degrees, radians, sinusoid } from '../../support/optics.ts'
import { paintMap } from '../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../support/scene.ts'
import { picture, withViews } from '../../support/view-map.ts'

const sideMm = 80
/** Bare foil, with a groove for the views to share. */
const bare = paintMap({ size: 320, sideMm, gratings: 1, whites: [], spots: [], varnish: false }, () => ({
  gratings: [{ ...sinusoid, share: 0 }],
}))
const eyeDistanceMm = 400

/**
 * The design lamp as seen from the panel, 500 mm away and 20 mm wide, and an eye at an angle in the fan; the lamp
 * stands square to the fan, or along it.
 */
function sceneAt(angle: number, along = false): Scene {
  const pose = { tiltForwardDeg: 0, tiltSideDeg: -degrees(angle), turnDeg: 0 }
  const elevation = radians(60)
  const [x, y, z] = toTable(panelRotation(pose), [
    along ? Math.cos(elevation) : 0,
    along ? 0 : Math.cos(elevation),
    Math.sin(elevation),
  ])
  const light = oneLamp({
    azimuthDeg: degrees(Math.atan2(y, x)),
    elevationDeg: degrees(Math.asin(z)),
    distanceMm: 500,
    diameterMm: 20,
  })
  const { view } = sceneFor(light)
  return sceneFor(light, { view: { ...view, pose, eyeDistanceMm } })
}

/** Luminance of the pixels of a frame that meet the panel, with their places, mm from its middle. */
function frameOf(map: MaterialMap, scene: Scene, size = 240) {
  // Neither lamp nor pose is in the tables.
  const tables = kept.get(map) ?? bakingsOf(scene, map).map(bakeTables)
  kept.set(map, tables)
  const frame = renderTile(
    scene,
    pyramid(map),
    tables,
    { width: size, height: size, grid: 1 },
    { top: 0, bottom: size },
  )
  const standing = stand(scene.light.lamps[0].pose, scene.view.pose, eyeDistanceMm)
  const rays = cameraRays(frameCamera(map, eyeDistanceMm, 1), standing, size, size)
  return Array.from({ length: size * size }, (_, i) => {
    const at = panelPoint(rays, (i % size) + 0.5, Math.floor(i / size) + 0.5)
    return { at, light: frame[4 * i + 3] === 0 ? 0 : frame[4 * i + 1]! }
  })
}

const kept = new Map<MaterialMap, ReturnType<typeof bakeTables>[]>()

/** Centre of light along x and the light's sum, over one half of a frame. */
function centre(frame: ReturnType<typeof frameOf>, within: (x: number, y: number) => boolean) {
  let [sum, moment] = [0, 0]
  for (const { at, light } of frame)
    if (at && within(...at)) {
      sum += light
      moment += light * at[0]
    }
  return { x: moment / sum, sum }
}

describe('a frame of layered depth', () => {
  it('shows each plane moved by its depth times the tangent of the angle of view', () => {
    const [front, back] = [6, -4]
    const core = picture(sideMm, (x, y) => Math.abs(x) < 0.1 && Math.abs(y + 0.5) < 0.1)
    const star = picture(sideMm, (x, y) => Math.abs(x) < 0.1 && Math.abs(y - 0.5) < 0.1)
    const parameters = { depthMm: front, views: 5, planes: [{ layerId: 'star', depthMm: back }] }
    const map = withViews(bare, 'layered', parameters, [core, star])
    const { angles } = map.viewSets![0]!
    for (const angle of angles) {
      const frame = frameOf(map, sceneAt(angle))
      const near = centre(frame, (x, y) => Math.abs(x) < 12 && Math.abs(y + 20) < 8)
      const far = centre(frame, (x, y) => Math.abs(x) < 12 && Math.abs(y - 20) < 8)
      // A pixel of the frame is 80 · 1.12 / 240 = 0.37 mm. In front: an eye on the right sees it further left.
      expect(Math.abs(near.x + front * Math.tan(angle))).toBeLessThan(0.37)
      expect(Math.abs(far.x + back * Math.tan(angle))).toBeLessThan(0.37)
    }
  })
})

describe('a frame of a switch', () => {
  it('shows one picture, then the other, as the carton turns under a lamp that stays', () => {
    const left = picture(sideMm, (x, y) => Math.abs(x + 0.2) < 0.1 && Math.abs(y) < 0.1)
    const right = picture(sideMm, (x, y) => Math.abs(x - 0.2) < 0.1 && Math.abs(y) < 0.1)
    const map = withViews(bare, 'switch', { secondLayerId: 'b' }, [left, right])
    // Lamp and eye turn together against the carton, so h moves by sin τ (1 + sin 60°).
    const turn = Math.asin(Math.sin(map.viewSets![0]!.angles[1]!) / (1 + Math.sin(radians(60))))
    const base = sceneAt(0)
    const light = [turn, -turn].map(tilt => {
      const pose = { ...base.view.pose, tiltSideDeg: degrees(tilt) }
      const frame = frameOf(map, { ...base, view: { ...base.view, pose } })
      const part = (sign: number) =>
        centre(frame, (x, y) => Math.abs(x - sign * 8) < 4 && Math.abs(y) < 4).sum
      return [part(-1), part(1)] as const
    })
    // An eye on the left, first: the first picture.
    expect(light[0]![0] / light[0]![1]).toBeGreaterThan(10)
    expect(light[1]![1] / light[1]![0]).toBeGreaterThan(10)
  })
})

describe('a frame of a switch by pitch', () => {
  it('shows each eye its own picture, ten times as bright as the other’s second order', () => {
    const left = picture(sideMm, (x, y) => Math.abs(x + 0.2) < 0.1 && Math.abs(y) < 0.1)
    const right = picture(sideMm, (x, y) => Math.abs(x - 0.2) < 0.1 && Math.abs(y) < 0.1)
    const parameters = { coding: 'tilt', secondLayerId: 'b' }
    const map = withViews(bare, 'switch', parameters, [left, right])
    map.viewSets![0]!.angles.forEach((angle, view) => {
      const frame = frameOf(map, sceneAt(angle, true))
      const [own, other] = [view * 2 - 1, 1 - view * 2].map(
        sign => centre(frame, (x, y) => Math.abs(x - sign * 8) < 4 && Math.abs(y) < 4).sum,
      )
      expect(own! / other!).toBeGreaterThan(10)
    })
  })
})

describe('the fast picture of views', () => {
  it('is that of the sum over every nanometre', () => {
    const disc = picture(sideMm, (x, y) => Math.hypot(x, y) < 0.7)
    const map = withViews(bare, 'animation', { layerIds: ['b', 'c', 'd', 'e'] }, [
      disc,
      disc,
      disc,
      disc,
      disc,
    ])
    const white = illuminantWhite('D65')
    const found: number[] = []
    const tables = bakingsOf(sceneAt(0), map).map(bakeTables)
    for (const angle of map.viewSets![0]!.angles.flatMap(a => [a, a + 0.04])) {
      const scene = sceneAt(angle)
      const standing = stand(scene.light.lamps[0].pose, scene.view.pose, eyeDistanceMm)
      const light = lightOf(scene, standing)
      const site = emptySite(tables[0]!)
      const sampler = new MapSampler(map)
      for (const [column, row] of [
        [160, 160],
        [100, 120],
        [220, 190],
      ] as const) {
        const x = ((column + 0.5) / map.width - 0.5) * sideMm
        const y = (0.5 - (row + 0.5) / map.height) * sideMm
        sampler.fill(column, row, site)
        aim(light, x, y, site)
        const fast = [...shadeAll(site, light, tables, new Float64Array(3))] as unknown as XYZ
        const towards = (p: Vec3) => {
          const d = Math.hypot(p[0] - x, p[1] - y, p[2])
          return { direction: [(p[0] - x) / d, (p[1] - y) / d, p[2] / d] as Direction, d }
        }
        const lamp = towards(standing.lamp)
        const eye = towards(standing.eye)
        const rays = {
          lamp: lamp.direction,
          eye: eye.direction,
          lampSpread: 5 / lamp.d,
          eyeSpread: 1 / eye.d,
        }
        const stack = stackAt(map, x + sideMm / 2, y + sideMm / 2)
        expect(stack.gratings).toHaveLength(5)
        const slow = underLamp(seen(stack, rays, 'D65', defaultBoard))
        // The truth is in units of white at this place; the picture's white lies untilted in the panel's middle.
        const upright = Math.sin(radians(scene.light.lamps[0].pose.elevationDeg))
        const falloff = (500 / lamp.d) ** 2 * (lamp.direction[2] / upright)
        const scale = 1 / Math.max(1, slow[1] * falloff)
        const lab = (v: XYZ, by: number) => xyzToLab(v.map(c => c * by) as unknown as XYZ, white)
        found.push(deltaE2000(lab(fast, scale), lab(slow, falloff * scale)))
      }
    }
    // Bound of the band samples for small lamps under D65.
    expect(Math.max(...found)).toBeLessThanOrEqual(1)
  })
})

describe('coarser maps of views', () => {
  it('keep how much of the panel each view has', () => {
    const ring = picture(sideMm, (x, y) => Math.abs(Math.hypot(x, y) - 0.6) < 0.02)
    const disc = picture(sideMm, (x, y) => Math.hypot(x, y) < 0.3)
    const levels = pyramid(withViews(bare, 'switch', { secondLayerId: 'b' }, [ring, disc]))
    const shares = (map: MaterialMap) => {
      const sums = [0, 0]
      const bytes = map.planes.get('views')!
      for (let i = 0; i < bytes.data.length; i += bytes.components)
        for (const view of [0, 1]) sums[view]! += bytes.data[i + view]! / 255
      return sums.map(sum => sum / (map.width * map.height))
    }
    const fine = shares(levels[0]!)
    for (const level of levels.slice(1, 6))
      shares(level).forEach((share, view) => {
        // Each byte is rounded up or down by place, less than one step off.
        expect(Math.abs(share - fine[view]!)).toBeLessThan(1 / 255)
      })
  })
})
