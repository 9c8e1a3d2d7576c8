import { BadInput } from '../base/finding.ts'
import { type DisplaySettings, displayColor, displayTransform } from '../color/display.ts'
import { type Lab, xyzToLab } from '../color/lab.ts'
import { illuminantWhite, type LightSource } from '../color/spectrum.ts'
import type { XYZ } from '../color/xyz.ts'
import { type Area, aimArea, emptyArea } from '../optics/area.ts'
import { shareBeyond } from '../optics/beyond.ts'
import type { Stack } from '../optics/matter.ts'
import { type Direction, direction, discSpread, eyeSpread, type Rays } from '../optics/rays.ts'
import type { Surround } from '../optics/room.ts'
import type { Board } from '../optics/scene.ts'
import { seen, underLamp } from '../optics/stack.ts'
import { angularSpread, lampOutline, lightOf, wideFrom } from '../reference/light.ts'
import { type Standing, standIn } from '../reference/pose.ts'
import { type Lamp, type Scene, sourceOf } from '../reference/scene.ts'
import { minus, toPanel, type Vec3 } from '../reference/vector.ts'

/** A direction and distance from the probed point: azimuth from the panel's right, counter-clockwise; elevation from its plane. */
export interface PlaceDeg {
  readonly azimuthDeg: number
  readonly elevationDeg: number
  readonly distanceMm: number
}

/** Lamp and eye as seen from the probed point, and what the light is. */
export interface Looking {
  readonly lamp: PlaceDeg & { readonly diameterMm: number }
  readonly eye: PlaceDeg
  readonly illuminant: LightSource
  /** Outline of a lamp that is no small disc, as it is seen from there. */
  readonly area?: Area
}

/** Colours are X, Y, Z in units of perfect white under the same lamp in the same place (Y = 1). */
export interface Probe {
  readonly orders: readonly {
    /** Index of its grating in the stack. */
    readonly grating: number
    readonly m: number
    readonly wavelengthNm: number
    /** Standard deviation of the band. */
    readonly bandNm: number
    readonly efficiency: number
    readonly XYZ: XYZ
  }[]
  /** All the light of the lamp that reaches the eye. */
  readonly XYZ: XYZ
  readonly Lab: Lab
  /** Encoded, 0..1, after exposure, adaptation, highlight compression and gamut. */
  readonly sRGB: readonly [number, number, number]
  /** Of each grating: part of its light in orders that pictures leave out; these numbers hold them. */
  readonly leftOut: readonly number[]
  /** The parts of XYZ. */
  readonly diffractedXYZ: XYZ
  readonly mirrorXYZ: XYZ
  readonly hazeXYZ: XYZ
  readonly glossXYZ: XYZ
  readonly diffuseXYZ: XYZ
  /** What the room adds, not in XYZ; in units of perfect white under the lamp in the panel's middle. */
  readonly roomXYZ: XYZ
}

/**
 * What the eye sees at one spot, summed every nanometre.
 * Throws BadInput when the lamp or the eye is not above the panel, or the lamp's disc reaches the spot.
 */
export function probe(
  stack: Stack,
  looking: Looking,
  board: Board,
  display: Pick<DisplaySettings, 'exposureStops' | 'adapt'>,
  surround: Surround | null,
): Probe {
  const { lamp, eye, illuminant } = looking
  requireAbove('lamp', lamp)
  requireAbove('eye', eye)
  if (lamp.diameterMm / 2 >= lamp.distanceMm)
    throw new BadInput(
      'lamp-inside-panel',
      'lamp',
      `${lamp.diameterMm} mm wide at ${lamp.distanceMm} mm`,
      'the lamp reaches into the panel',
      'Move it away, or make it smaller',
    )
  const rays: Rays = {
    lamp: direction(radians(lamp.azimuthDeg), radians(lamp.elevationDeg)),
    eye: direction(radians(eye.azimuthDeg), radians(eye.elevationDeg)),
    lampSpread: discSpread(lamp.diameterMm / 2, lamp.distanceMm),
    eyeSpread: eyeSpread(eye.distanceMm),
    ...(looking.area === undefined ? {} : { area: looking.area }),
  }
  const found = seen(stack, rays, illuminant, board, surround)
  const white = illuminantWhite(illuminant)
  const total = underLamp(found)
  const transform = displayTransform({ ...display, gamut: 'srgb' }, white)
  const [r, g, b] = displayColor(transform, ...total, new Float64Array(3))
  return {
    orders: found.orders.map(order => ({
      grating: order.grating,
      m: order.m,
      wavelengthNm: order.wavelength,
      bandNm: order.deviation,
      efficiency: order.efficiency,
      XYZ: order.color,
    })),
    XYZ: total,
    Lab: xyzToLab(total, white),
    sRGB: [r!, g!, b!],
    leftOut: stack.gratings.map(g =>
      shareBeyond(g.groove, g.grooveDepth, g.pitch, 550, 2 * board.lacquerIndex),
    ),
    diffractedXYZ: found.diffracted,
    mirrorXYZ: found.mirror,
    hazeXYZ: found.haze,
    glossXYZ: found.gloss,
    diffuseXYZ: found.diffuse,
    roomXYZ: found.room,
  }
}

/**
 * Lamp and eye of a scene as seen from a point of its panel.
 * @param xMm, yMm from the panel's lower left corner
 */
export function lookingFrom(
  scene: Scene,
  panel: { readonly widthMm: number; readonly heightMm: number },
  xMm: number,
  yMm: number,
): Looking {
  const hand = scene.light.lamps[0]
  const lamp = hand.pose
  const standing = standIn(scene)
  const point: Vec3 = [xMm - panel.widthMm / 2, yMm - panel.heightMm / 2, 0]
  return {
    lamp: { ...placeFrom(point, standing.lamp), diameterMm: lamp.diameterMm },
    eye: placeFrom(point, standing.eye),
    illuminant: sourceOf(hand),
    ...(isArea(hand) ? { area: areaFrom(hand, standing, point) } : {}),
  }
}

/** Whether a lamp's outline counts. */
function isArea(lamp: Pick<Lamp, 'pose' | 'form'>): boolean {
  return lamp.form.kind === 'rectangle' || angularSpread(lamp) > wideFrom
}

/** A lamp's outline as it is seen from a point of the panel, mm from its middle. */
export function areaFrom(
  lamp: Pick<Lamp, 'pose' | 'form'>,
  { rotation, offset = [0, 0, 0] }: Pick<Standing, 'rotation' | 'offset'>,
  [x, y]: Vec3,
): Area {
  const { round, middle, across, up } = lampOutline(lamp)
  const turned = {
    round,
    middle: minus(toPanel(rotation, middle), offset),
    across: toPanel(rotation, across),
    up: toPanel(rotation, up),
  }
  return aimArea(turned, x, y, emptyArea())
}

/** Lamp of the rays to an outline. */
export function lampRays(
  lamp: Pick<Lamp, 'pose' | 'form'>,
  area: Area,
): Pick<Rays, 'lamp' | 'lampSpread' | 'area'> {
  const distance = Math.hypot(area.x, area.y, area.z)
  return {
    lamp: [area.towardX, area.towardY, area.towardZ],
    lampSpread: (angularSpread(lamp) * lamp.pose.distanceMm) / distance,
    ...(isArea(lamp) ? { area } : {}),
  }
}

/** Direction and place of a target as seen from a point. */
export function raysFrom(
  point: Vec3,
  target: Vec3,
): { readonly towards: Direction; readonly place: PlaceDeg } {
  const place = placeFrom(point, target)
  return { towards: direction(radians(place.azimuthDeg), radians(place.elevationDeg)), place }
}

/** The room of a scene as its panel sees it. */
export function surroundOf(scene: Scene): Surround {
  return lightOf(scene, standIn(scene)).surround
}

function placeFrom(point: Vec3, target: Vec3): PlaceDeg {
  const [x, y, z] = [target[0] - point[0], target[1] - point[1], target[2] - point[2]]
  const flat = Math.hypot(x, y)
  return {
    azimuthDeg: flat === 0 ? 0 : degrees(Math.atan2(y, x)),
    elevationDeg: degrees(Math.atan2(z, flat)),
    distanceMm: Math.hypot(flat, z),
  }
}

export function requireAbove(what: 'lamp' | 'eye', { elevationDeg, distanceMm }: PlaceDeg): void {
  if (!(distanceMm > 0))
    throw new BadInput(
      `${what}-inside-panel`,
      what,
      `distance ${distanceMm} mm`,
      'stands inside the panel',
      'Give a distance above 0 mm',
    )
  if (elevationDeg > 0 && elevationDeg <= 90) return
  const inside = elevationDeg === 0
  throw new BadInput(
    inside ? `${what}-inside-panel` : `${what}-behind-panel`,
    what,
    `elevation ${Number(elevationDeg.toFixed(2))}°`,
    inside ? 'lies in the plane of the panel' : 'is not on the print side of the panel',
    'Give an elevation above 0° and up to 90°, straight above',
  )
}

const radians = (deg: number): number => (deg * Math.PI) / 180
const degrees = (rad: number): number => (rad * 180) / Math.PI
