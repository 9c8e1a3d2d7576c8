import { displayColor, displayTransform } from '../color/display.ts'
import { type Lab, xyzToLab } from '../color/lab.ts'
import type { XYZ } from '../color/xyz.ts'
import { aimArea, emptyArea } from '../optics/area.ts'
import type { Stack } from '../optics/matter.ts'
import { eyeSpread, type Rays } from '../optics/rays.ts'
import type { Board } from '../optics/scene.ts'
import { seen, underLamp } from '../optics/stack.ts'
import { sceneWhite } from '../reference/baking.ts'
import { lampOutline } from '../reference/light.ts'
import { standIn } from '../reference/pose.ts'
import { type Scene, sourceOf, totalLux } from '../reference/scene.ts'
import { areaFrom, lampRays, raysFrom, requireAbove, surroundOf } from './probe.ts'

/** All lamps of a scene at one spot, X, Y, Z in units of perfect white in the panel's middle under all of them. */
export interface ProbeSum {
  readonly lamps: readonly {
    readonly name: string
    readonly lux: number
    /** The lamp stands behind the panel and gives nothing. */
    readonly behind: boolean
    readonly XYZ: XYZ
  }[]
  readonly roomXYZ: XYZ
  /** Lamps and room together: what the picture shows. */
  readonly XYZ: XYZ
  /** Against the white of all lamps. */
  readonly Lab: Lab
  /** Encoded, 0..1, after exposure, adaptation, highlight compression and gamut. */
  readonly sRGB: readonly [number, number, number]
}

/**
 * What the eye sees at a point of a scene's panel, lamp by lamp, summed every nanometre.
 * Throws BadInput when the eye is not above the panel.
 * @param xMm, yMm from the panel's lower left corner
 */
export function probeSum(
  stack: Stack,
  scene: Scene,
  panel: { readonly widthMm: number; readonly heightMm: number },
  xMm: number,
  yMm: number,
  board: Board,
): ProbeSum {
  const { lamps } = scene.light
  const standing = standIn(scene)
  const [x, y] = [xMm - panel.widthMm / 2, yMm - panel.heightMm / 2]
  const eye = raysFrom([x, y, 0], standing.eye)
  requireAbove('eye', eye.place)
  const { up, level } = surroundOf(scene)
  const total = totalLux(scene.light)
  const room: [number, number, number] = [0, 0, 0]
  const found = lamps.map(lamp => {
    const area = areaFrom(lamp, standing, [x, y, 0])
    const share = lamp.lux / total
    const behind = area.light <= 0 || area.towardZ <= 0
    const rays: Rays = {
      ...(behind ? { lamp: [0, 0, 1] as const, lampSpread: 0.01 } : lampRays(lamp, area)),
      eye: eye.towards,
      eyeSpread: eyeSpread(eye.place.distanceMm),
    }
    const one = seen(stack, rays, sourceOf(lamp), board, { up, level: level * share })
    for (let c = 0; c < 3; c++) room[c]! += one.room[c]!
    const scale = behind ? 0 : (share * area.light) / aimArea(lampOutline(lamp), 0, 0, emptyArea()).light
    const [X, Y, Z] = underLamp(one)
    return { name: lamp.name, lux: lamp.lux, behind, XYZ: [X * scale, Y * scale, Z * scale] as const }
  })
  const sum = (c: 0 | 1 | 2) => found.reduce((all, lamp) => all + lamp.XYZ[c], room[c])
  const XYZ: XYZ = [sum(0), sum(1), sum(2)]
  const white = sceneWhite(scene)
  const transform = displayTransform({ ...scene.view, gamut: 'srgb' }, white, total)
  const [r, g, b] = displayColor(transform, ...XYZ, new Float64Array(3))
  return { lamps: found, roomXYZ: room, XYZ, Lab: xyzToLab(XYZ, white), sRGB: [r!, g!, b!] }
}
