import { aimArea, emptyArea, type Outline } from '../optics/area.ts'
import type { Surround } from '../optics/room.ts'
import { pupilRadius, roomUp } from '../optics/scene.ts'
import { distinctSources } from './baking.ts'
import { lampPosition, type Standing } from './pose.ts'
import { type Lamp, type Scene, totalLux } from './scene.ts'
import type { Site } from './site.ts'
import { minus, toPanel, type Vec3 } from './vector.ts'

/** What lamps and eye are to every place of the panel: the numbers that do not change over a picture. */
export interface Light {
  readonly eyeX: number
  readonly eyeY: number
  readonly eyeZ: number
  /** Half the pupil's radius, mm. */
  readonly eyeSigma: number
  /** Those that burn; lamps of one set of tables follow each other. */
  readonly lamps: readonly LampLight[]
  /** Part of the room's light that each set of tables stands for; they sum to 1. */
  readonly roomParts: readonly number[]
  readonly surround: Surround
  /** The same for each set of tables alone. */
  readonly rooms: readonly Surround[]
}

/** One lamp, panel frame. */
export interface LampLight extends Outline {
  /** Index of the tables of its spectrum. */
  readonly set: number
  /** So large that its outline counts; otherwise a normal distribution of the same spread stands for it. */
  readonly wide: boolean
  /** Turns lamp height over distance³ into irradiance over that of all lamps in the middle of the untilted panel, mm². */
  readonly pointScale: number
  /** Turns ∫ cosθ dω into the same, for a wide lamp, 1/sr. */
  readonly wideScale: number
}

/**
 * Angular spread, radians, from which a lamp's outline counts: half the angular radius of a disc, half the longer side
 * over √3 for a rectangle, seen from the panel's middle. A disc's edge is sharper than a normal distribution: at 0.01
 * the two are 1.4 ΔE00 apart in the mean through an order, at 0.02 about 4, mostly in brightness.
 */
export const wideFrom = 0.02
/** Up to here the two forms are mixed, so that a growing lamp does not jump. */
export const wideFully = 0.03

export function lightOf(scene: Scene, standing: Standing): Light {
  const { lamps, roomLevel } = scene.light
  const [eyeX, eyeY, eyeZ] = standing.eye
  const total = totalLux(scene.light)
  const { sources, setOf } = distinctSources(scene.light)
  const lit = lamps.flatMap((lamp, i) =>
    lamp.lux > 0 ? bothForms(lamp, lamp.lux / total, setOf[i]!, standing) : [],
  )
  const roomParts = sources.map((_, set) =>
    lamps.reduce((sum, lamp, i) => sum + (setOf[i] === set ? lamp.lux / total : 0), 0),
  )
  const up = toPanel(standing.rotation, roomUp)
  return {
    eyeX,
    eyeY,
    eyeZ,
    eyeSigma: pupilRadius / 2,
    lamps: lit.sort((a, b) => a.set - b.set),
    roomParts,
    surround: { up, level: roomLevel },
    rooms: roomParts.map(part => ({ up, level: part * roomLevel })),
  }
}

/** Half the spread that makes a lamp wide is its larger one; see {@link wideFrom}. */
export function angularSpread({ pose, form }: Pick<Lamp, 'pose' | 'form'>): number {
  const half =
    form.kind === 'disc' ? pose.diameterMm / 4 : Math.max(form.widthMm, form.heightMm) / 2 / Math.sqrt(3)
  return half / pose.distanceMm
}

/** Outline of a lamp in the frame of the table, mm from the panel's middle. */
export function lampOutline({ pose, form }: Pick<Lamp, 'pose' | 'form'>): Outline {
  const azimuth = (pose.azimuthDeg * Math.PI) / 180
  const elevation = (pose.elevationDeg * Math.PI) / 180
  // Level to the right as one looks at the lamp from the panel's middle, and up along its face.
  const level: Vec3 = [Math.sin(azimuth), -Math.cos(azimuth), 0]
  const rise: Vec3 = [
    -Math.sin(elevation) * Math.cos(azimuth),
    -Math.sin(elevation) * Math.sin(azimuth),
    Math.cos(elevation),
  ]
  const middle = lampPosition(pose)
  if (form.kind === 'disc') {
    const radius = pose.diameterMm / 2
    return { round: true, middle, across: mix(level, radius, rise, 0), up: mix(level, 0, rise, radius) }
  }
  const roll = (form.rollDeg * Math.PI) / 180
  const [c, s] = [Math.cos(roll), Math.sin(roll)]
  const [w, h] = [form.widthMm / 2, form.heightMm / 2]
  return {
    round: false,
    middle,
    across: mix(level, w * c, rise, w * s),
    up: mix(level, -h * s, rise, h * c),
  }
}

const mix = (a: Vec3, x: number, b: Vec3, y: number): Vec3 => [
  a[0] * x + b[0] * y,
  a[1] * x + b[1] * y,
  a[2] * x + b[2] * y,
]

/** A lamp in the form that is right for its size; in between half and half of both, as two lamps. */
function bothForms(lamp: Lamp, share: number, set: number, standing: Standing): readonly LampLight[] {
  const part = Math.min(1, Math.max(0, (angularSpread(lamp) - wideFrom) / (wideFully - wideFrom)))
  const forms = [
    { wide: false, share: share * (1 - part) },
    { wide: true, share: share * part },
  ]
  return forms.flatMap(form =>
    form.share > 0 ? [lampLight(lamp, form.share, set, form.wide, standing)] : [],
  )
}

function lampLight(
  lamp: Lamp,
  share: number,
  set: number,
  wide: boolean,
  { rotation, offset = [0, 0, 0] }: Standing,
): LampLight {
  const outline = lampOutline(lamp)
  const { pose } = lamp
  return {
    round: outline.round,
    middle: minus(toPanel(rotation, outline.middle), offset),
    across: toPanel(rotation, outline.across),
    up: toPanel(rotation, outline.up),
    set,
    wide,
    pointScale: (share * pose.distanceMm ** 2) / Math.sin((pose.elevationDeg * Math.PI) / 180),
    wideScale: share / aimArea(outline, 0, 0, emptyArea()).light,
  }
}

/** Sets the place, (x, y) mm from the panel's middle, and where the eye stands as seen from there. */
export function aim(light: Light, x: number, y: number, site: Site): void {
  site.placeX = x
  site.placeY = y
  const ex = light.eyeX - x
  const ey = light.eyeY - y
  const inverse = 1 / Math.sqrt(ex * ex + ey * ey + light.eyeZ * light.eyeZ)
  site.eyeX = ex * inverse
  site.eyeY = ey * inverse
  site.eyeZ = light.eyeZ * inverse
  site.eyeSpread = light.eyeSigma * inverse
}

/** Sets a lamp that is not wide as it is seen from the site's place. */
export function aimLamp({ middle, across, up, round, pointScale }: LampLight, site: Site): void {
  const x = middle[0] - site.placeX
  const y = middle[1] - site.placeY
  const z = middle[2]
  const inverse = 1 / Math.sqrt(x * x + y * y + z * z)
  const inverse2 = inverse * inverse
  const lx = x * inverse
  const ly = y * inverse
  const lz = z * inverse
  site.lampX = lx
  site.lampY = ly
  site.lampZ = lz
  site.irradiance = pointScale * Math.max(0, lz) * inverse2
  if (round) {
    const radius2 = across[0] * across[0] + across[1] * across[1] + across[2] * across[2]
    const s2 = 0.25 * radius2 * inverse2
    setLampBlur(site, s2 * (1 - lx * lx), -s2 * lx * ly, s2 * (1 - ly * ly), s2)
    return
  }
  const a = across[0] * lx + across[1] * ly + across[2] * lz
  const b = up[0] * lx + up[1] * ly + up[2] * lz
  const ax = across[0] - a * lx
  const ay = across[1] - a * ly
  const az = across[2] - a * lz
  const bx = up[0] - b * lx
  const by = up[1] - b * ly
  const bz = up[2] - b * lz
  const scale = inverse2 / 3
  const both = (ax * ax + ay * ay + az * az + bx * bx + by * by + bz * bz) * scale
  setLampBlur(
    site,
    (ax * ax + bx * bx) * scale,
    (ax * ay + bx * by) * scale,
    (ay * ay + by * by) * scale,
    both / 2,
  )
}

/** Covariance of the tangential direction to the lamp's points, and the mean variance square to the direction itself. */
export function setLampBlur(site: Site, xx: number, xy: number, yy: number, mean: number): void {
  site.lampXX = xx
  site.lampXY = xy
  site.lampYY = yy
  site.lampSpread = Math.sqrt(mean)
}
