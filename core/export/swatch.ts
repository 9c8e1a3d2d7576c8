import type { EffectSpec } from '../effects/effect.ts'
import { newBoard, newPrint, newWhiteInk, usualLux } from '../job/usual.ts'
import type { MaterialMap } from '../material/map.ts'
import { swatchMap, swatchSize } from '../material/swatch.ts'
import { bakeTables } from '../optics/bake.ts'
import type { Tables } from '../optics/tables.ts'
import { bakingsOf } from '../reference/baking.ts'
import { margin } from '../reference/camera.ts'
import { displayPicture } from '../reference/display-picture.ts'
import { renderTile } from '../reference/render.ts'
import type { Lamp, Scene } from '../reference/scene.ts'

/** A strip of small pictures, one under another, of a piece of foil that is tilted and comes back. */
export interface Swatch {
  readonly width: number
  /** Of one picture. */
  readonly height: number
  readonly frames: number
  /** RGB, 8 bits, sRGB. */
  readonly data: Uint8Array
}

/** Pictures of a tilt; the last is followed by the first. */
export const swatchFrames = 24
/** Largest tilt, degrees: what a hand does without thinking, and short of the lamps' mirror images. */
const reach = 9
/** Pixels of a picture. */
const picture = { width: 60, height: 40 } as const

/** Two soft lamps, behind and at the right, so that both axes of tilt have light; a board as assumed. */
function sceneAt(tiltForwardDeg: number, tiltSideDeg: number): Scene {
  const lamp = (azimuthDeg: number): Lamp => ({
    name: `Lamp at ${azimuthDeg}°`,
    pose: { azimuthDeg, elevationDeg: 60, distanceMm: 500, diameterMm: 36 },
    form: { kind: 'disc' },
    illuminant: 'D65',
    spectrum: null,
    lux: usualLux,
  })
  return {
    board: newBoard,
    whiteInk: newWhiteInk,
    print: newPrint,
    light: { lamps: [lamp(90), lamp(0)], roomLevel: 0 },
    view: {
      pose: { tiltForwardDeg, tiltSideDeg, turnDeg: 0 },
      eyeDistanceMm: 400,
      exposureStops: -0.5,
      anchorLux: null,
      adapt: true,
      gamut: 'srgb',
      displayWhite: 'D65',
    },
  }
}

/** How the carton is held at a part 0..1 of the loop: forward and back first, then to both sides. */
function sceneIn(part: number): Scene {
  const swing = reach * Math.sin(4 * Math.PI * part)
  return part < 0.5 ? sceneAt(swing, 0) : sceneAt(0, swing)
}

/** Tables by the grooves that they are for: kinds share them, and they cost more than the pictures. */
export type SwatchTables = Map<string, readonly Tables[]>

/**
 * Pictures of an effect while the carton is tilted to all four sides, lit as a job is.
 * Throws BadInput for parameters that the effect does not take.
 * @param tables kept from swatch to swatch
 */
export function swatchOf(spec: EffectSpec, tables: SwatchTables): Swatch {
  const map = swatchMap(spec)
  const sets = tablesOf(map, tables)
  const { width, height } = picture
  const data = new Uint8Array(width * height * 3 * swatchFrames)
  // Closer than the margin around a panel: its edges stay out of sight while it tilts.
  const size = { width, height, grid: 1, zoom: { scale: 1 + 2.5 * margin, x: 0, y: 0 } }
  for (let i = 0; i < swatchFrames; i++) {
    const scene = sceneIn(i / swatchFrames)
    const light = renderTile(scene, [map], sets, size, { top: 0, bottom: height })
    data.set(displayPicture(light, scene, 8), i * width * height * 3)
  }
  return { width, height, frames: swatchFrames, data }
}

function tablesOf(map: MaterialMap, known: SwatchTables): readonly Tables[] {
  const key = JSON.stringify(map.grooves)
  const kept = known.get(key)
  if (kept) return kept
  const made = bakingsOf(sceneAt(0, 0), map).map(bakeTables)
  known.set(key, made)
  return made
}

/** Proportions of a swatch. */
export const swatchAspect = swatchSize.widthMm / swatchSize.heightMm
