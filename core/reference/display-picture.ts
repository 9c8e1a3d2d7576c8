import { displayColor, displayTransform } from '../color/display.ts'
import { sceneWhite } from './baking.ts'
import type { Scene } from './scene.ts'
import { totalLux } from './scene.ts'

/**
 * Code value of the neutral grey around the panel, 0..1: L* 52, the middle grey that the window uses too. Its luminance
 * is just under a fifth of the screen white, the most that soft proofing allows a background.
 */
export const surroundCode = 123 / 255

/** What lies around the object: one colour of the screen, code values 0..1, or nothing, so that pixels are clear. */
export type Background = readonly [red: number, green: number, blue: number] | 'transparent'

export const surround: Background = [surroundCode, surroundCode, surroundCode]

/**
 * Screen values of rendered light, rows as in `light`: RGB, or RGB and alpha (not multiplied into the colour) where the
 * background is clear.
 * The panel's edge is mixed with the background after encoding, so that a highlight does not grow over the edge.
 * @param light X, Y, Z, met a pixel, as {@link renderTile} gives it
 */
export function displayPicture(
  light: Float32Array,
  scene: Pick<Scene, 'light' | 'view'>,
  depth: 8 | 16,
  background: Background = surround,
): Uint8Array<ArrayBuffer> | Uint16Array<ArrayBuffer> {
  const transform = displayTransform(scene.view, sceneWhite(scene), totalLux(scene.light))
  const pixels = light.length / 4
  const channels = background === 'transparent' ? 4 : 3
  const out = depth === 8 ? new Uint8Array(pixels * channels) : new Uint16Array(pixels * channels)
  const top = depth === 8 ? 255 : 65535
  const color = new Float64Array(3)
  for (let i = 0; i < pixels; i++) {
    const met = light[4 * i + 3]!
    if (met > 0) displayColor(transform, light[4 * i]!, light[4 * i + 1]!, light[4 * i + 2]!, color)
    else if (background === 'transparent') continue
    for (let c = 0; c < 3; c++)
      out[channels * i + c] = Math.round(top * codeOf(color[c]!, met, background, c))
    if (background === 'transparent') out[4 * i + 3] = Math.round(top * met)
  }
  return out
}

function codeOf(own: number, met: number, background: Background, c: number): number {
  if (background === 'transparent') return own
  const around = background[c]!
  return met > 0 ? around + met * (own - around) : around
}
