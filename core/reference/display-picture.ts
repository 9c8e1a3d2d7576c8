import { displayColor, displayTransform } from '../color/display.ts'
import { sceneWhite } from './baking.ts'
import type { Scene } from './scene.ts'
import { totalLux } from './scene.ts'

/**
 * Code value of the neutral grey around the panel, 0..1: L* 52, the middle grey that the window uses too. Its luminance
 * is just under a fifth of the screen white, the most that soft proofing allows a background.
 */
export const surroundCode = 123 / 255

/**
 * Screen values of rendered light: RGB, `levels` + 1 steps a component, rows as in `light`.
 * The panel's edge is mixed with the surround after encoding, so that a highlight does not grow over the edge.
 * @param light X, Y, Z, met a pixel, as {@link renderTile} gives it
 */
export function displayPicture(
  light: Float32Array,
  scene: Pick<Scene, 'light' | 'view'>,
  depth: 8 | 16,
): Uint8Array | Uint16Array {
  const transform = displayTransform(scene.view, sceneWhite(scene), totalLux(scene.light))
  const pixels = light.length / 4
  const out = depth === 8 ? new Uint8Array(pixels * 3) : new Uint16Array(pixels * 3)
  const top = depth === 8 ? 255 : 65535
  const color = new Float64Array(3)
  for (let i = 0; i < pixels; i++) {
    const met = light[4 * i + 3]!
    if (met > 0) displayColor(transform, light[4 * i]!, light[4 * i + 1]!, light[4 * i + 2]!, color)
    for (let c = 0; c < 3; c++) {
      const code = met > 0 ? surroundCode + met * (color[c]! - surroundCode) : surroundCode
      out[3 * i + c] = Math.round(code * top)
    }
  }
  return out
}
