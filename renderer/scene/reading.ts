import { deltaE2000 } from '../../core/color/deltae.ts'
import { displayColor, displayTransform } from '../../core/color/display.ts'
import { xyzToLab } from '../../core/color/lab.ts'
import { type OverScreen, overScreen } from '../../core/color/over-screen.ts'
import type { XYZ } from '../../core/color/xyz.ts'
import { overlayWords } from '../../core/job/overlay-words.ts'
import { lookingFrom, probe } from '../../core/job/probe.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Stack } from '../../core/optics/matter.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { bakingOf, printingOf, sceneWhite } from '../../core/reference/baking.ts'
import { wholeView } from '../../core/reference/camera.ts'
import { sceneOnLeaf } from '../../core/reference/on-leaf.ts'
import { renderTile } from '../../core/reference/render.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { totalLux } from '../../core/reference/scene.ts'
import { stackSeen } from '../../core/reference/stack-seen.ts'
import { Sweeper } from '../../core/reference/sweep.ts'
import type { SeenOrder, SpotReading } from '../panels/probe/reading.ts'
import { linesPerMm } from '../stage/angles.ts'
import { lookAt, pixelOver } from '../stage/place.ts'
import type { SpotPlace } from './workshop.ts'

/** Orders below this part of paper white are not worth a line. */
const leastOrder = 0.02
/** Less grating than this is none to a reader. */
const leastShare = 0.005
/** Lines for orders. */
const mostOrders = 3
/** One pixel of a view this many pixels high is read. */
const viewPixels = 800

/** What lies at the spot, and the light that leaves it for the eye now. */
export function read(
  scene: Scene,
  levels: readonly MaterialMap[],
  sets: readonly Tables[],
  { xMm, yMm }: SpotPlace,
): SpotReading | null {
  const map = levels[0]
  if (map === undefined || xMm < 0 || yMm < 0 || xMm > map.widthMm || yMm > map.heightMm) return null
  // Where no leaf of the carton shows the spot there is nothing to see.
  const here = sceneOnLeaf(scene, map, xMm, yMm)
  const stack = { ...stackSeen(here ?? scene, map, xMm, yMm), printing: printingOf(scene.print, map) }
  const seen = here === null ? null : lightAt(here, levels, sets, map, { xMm, yMm })
  const onWhite = here === null ? null : new Sweeper(here, map, sets, [{ xMm, yMm }]).onWhite(scene.view.pose)
  const white = sceneWhite(scene)
  return {
    ...coatsAt(map, stack),
    reads: overlayWords(scene.view.overlay),
    orders: here === null ? [] : ordersAt(here, map, stack, { xMm, yMm }),
    css: seen === null ? null : screenColor(scene, seen),
    over: seen === null ? { stops: 0, outOfGamut: false } : overOf(scene, seen),
    lab: seen === null ? null : xyzToLab(seen, white),
    onWhite:
      seen === null || onWhite === null
        ? null
        : {
            css: screenColor(scene, onWhite),
            deltaE: deltaE2000(xyzToLab(seen, white), xyzToLab(onWhite, white)),
          },
  }
}

function coatsAt(map: MaterialMap, stack: Stack) {
  return {
    metal: stack.metal,
    cmyk: stack.cmyk,
    varnish: stack.varnish,
    spots: stack.spots
      .map((spot, i) => ({ name: map.spots[i]?.name ?? 'Spot ink', coverage: spot.coverage }))
      .filter(spot => spot.coverage > 0),
    whites: stack.whites
      .map((white, i) => ({ ...white, name: map.whites[i]?.name ?? 'White' }))
      .filter(white => white.coverage > 0),
    gratings: stack.gratings
      .filter(one => one.share >= leastShare)
      .map(one => ({
        pitchNm: one.pitch,
        linesPerMm: linesPerMm(one.pitch),
        azimuthDeg: halfTurn((one.azimuth * 180) / Math.PI),
        grooveDepthNm: one.grooveDepth,
        share: one.share,
        view: one.view ?? 0,
      })),
  }
}

/** X, Y, Z of the picture's pixel over the spot; null when it cannot be seen from here. */
function lightAt(
  scene: Scene,
  levels: readonly MaterialMap[],
  sets: readonly Tables[],
  map: MaterialMap,
  { xMm, yMm }: SpotPlace,
): XYZ | null {
  const pixel = pixelOver(lookAt(scene, map, wholeView, 2, 2), xMm, yMm)
  if (pixel === null) return null
  const [px, py] = pixel
  const zoom = { scale: viewPixels, x: px - 1, y: 1 - py }
  const [X, Y, Z, met] = renderTile(
    scene,
    levels,
    sets,
    { width: 1, height: 1, grid: 1, zoom },
    { top: 0, bottom: 1 },
  )
  return met === 0 || X === undefined || Y === undefined || Z === undefined ? null : [X, Y, Z]
}

/** The strongest orders that reach the eye, by what they add. */
function ordersAt(
  scene: Scene,
  map: MaterialMap,
  stack: Stack,
  { xMm, yMm }: SpotPlace,
): readonly SeenOrder[] {
  const looking = lookingFrom(scene, map, xMm, yMm)
  // Turned away from lamp or eye there is nothing to diffract.
  if (looking.lamp.elevationDeg <= 0 || looking.eye.elevationDeg <= 0) return []
  return probe(stack, looking, bakingOf(scene, scene.light.lamps[0].illuminant, map).board, scene.view, null)
    .orders.filter(order => order.XYZ[1] >= leastOrder)
    .sort((a, b) => b.XYZ[1] - a.XYZ[1])
    .slice(0, mostOrders)
    .map(({ grating, m, wavelengthNm, XYZ }) => ({
      m,
      view: stack.gratings[grating]?.view ?? 0,
      wavelengthNm,
      timesWhite: XYZ[1],
    }))
}

function screenColor(scene: Scene, [X, Y, Z]: XYZ): string {
  const transform = displayTransform(
    { ...scene.view, gamut: 'srgb' },
    sceneWhite(scene),
    totalLux(scene.light),
  )
  const [r, g, b] = displayColor(transform, X, Y, Z, new Float64Array(3))
  return `rgb(${[r, g, b].map(part => Math.round(255 * (part ?? 0))).join(' ')})`
}

function overOf(scene: Scene, seen: XYZ): OverScreen {
  return overScreen(displayTransform(scene.view, sceneWhite(scene), totalLux(scene.light)), ...seen)
}

/** Directions across grooves repeat after half a turn: 0 to below 180°. */
const halfTurn = (deg: number): number => ((deg % 180) + 180) % 180
