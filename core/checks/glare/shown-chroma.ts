import { type DisplayTransform, displayColor, displayTransform } from '../../color/display.ts'
import { xyzToLab } from '../../color/lab.ts'
import { decode, rgbSpaces } from '../../color/rgb.ts'
import { whiteDisplay } from '../../color/xyz.ts'
import { sceneWhite } from '../../reference/baking.ts'
import type { Scene } from '../../reference/scene.ts'

const kept = new WeakMap<Scene, DisplayTransform>()
const rgb = new Float64Array(3)
const { toXyz } = rgbSpaces.srgb

/**
 * C*ab of light as an sRGB screen shows it, paper white at 0.8 of its white: light that no screen can show counts with
 * the colour that stands for it, so that a spot of pure violet does not outweigh a carton full of colour.
 * @param XYZ in paper white under the scene's lamps
 */
export function shownChroma(scene: Scene, [X, Y, Z]: Float64Array): number {
  let transform = kept.get(scene)
  if (transform === undefined) {
    transform = displayTransform({ exposureStops: 0, adapt: true, gamut: 'srgb' }, sceneWhite(scene))
    kept.set(scene, transform)
  }
  displayColor(transform, X!, Y!, Z!, rgb)
  const [r, g, b] = [decode(rgb[0]!), decode(rgb[1]!), decode(rgb[2]!)]
  const part = (row: number): number => toXyz[row]! * r + toXyz[row + 1]! * g + toXyz[row + 2]! * b
  const [, a, bStar] = xyzToLab([part(0), part(3), part(6)], whiteDisplay)
  return Math.hypot(a, bStar)
}
