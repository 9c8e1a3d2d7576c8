import { compositeStrips } from '../core/art/composite.ts'
import type { ArtFile, Box, InkColor } from '../core/art/layer.ts'
import type { Task } from '../core/base/task.ts'
import type { InkPlane } from '../core/color/ink-plane.ts'
import type { Picture } from '../core/host/picture.ts'
import { readAmount } from '../core/roles/amount.ts'
import { justThese, leavesOf, reachOf } from '../core/roles/members.ts'
import type { Amount, Target } from '../core/roles/role.ts'
import { type Rgb, rgbReader } from '../core/roles/tone.ts'

/**
 * A small picture of a layer, group or channel over the whole document, longest side at most `longest` pixels.
 * `colour`: as the file shows it, see-through where nothing is painted; `amount`: what is read from it, white = full.
 * @param print how CMYK looks on the press; left out: its plain numbers
 */
export async function layerPicture(
  file: ArtFile,
  target: Target,
  show: 'colour' | 'amount',
  amount: Amount,
  longest: number,
  task?: Task,
  print?: InkPlane,
): Promise<Picture> {
  const whole: Box = { left: 0, top: 0, right: file.art.width, bottom: file.art.height }
  if (show === 'colour' && target.kind === 'layer') {
    const inks = file.art.colorMode === 'CMYK' ? print : undefined
    return layerColor(file, target.id, whole, longest, task, inks)
  }
  const { width, height, data } = await readAmount(file, target, amount, whole, longest, task)
  const rgba = new Uint8Array(width * height * 4)
  const ink = show === 'colour' ? inkRgb(file, target.id) : null
  for (let i = 0; i < data.length; i++)
    rgba.set(ink === null ? [data[i]!, data[i]!, data[i]!, 255] : [...ink, data[i]!], i * 4)
  return { width, height, rgba }
}

async function layerColor(
  file: ArtFile,
  layerId: string,
  whole: Box,
  longest: number,
  task: Task | undefined,
  inks: InkPlane | undefined,
): Promise<Picture> {
  const scale = Math.min(1, longest / Math.max(whole.right, whole.bottom))
  const width = Math.max(1, Math.round(whole.right * scale))
  const height = Math.max(1, Math.round(whole.bottom * scale))
  const leaves = leavesOf(file.art, layerId)
  const region = reachOf(file.art, leaves)
  // Red, green, blue or the four inks, by what is painted; then how much that is.
  const parts = inks ? 4 : 3
  const sums = new Float64Array(width * height * (parts + 1))
  const counts = new Uint32Array(width * height)
  const columnOf = (x: number) => Math.floor((x * width) / whole.right)
  const rowOf = (y: number) => Math.floor((y * height) / whole.bottom)
  if (region.right > region.left) {
    const read = rgbReader(file.art)
    const colour: Rgb = [0, 0, 0]
    const options = { ...justThese(file.art, leaves), region }
    for await (const strip of compositeStrips(file, options, task)) {
      const { box, alpha } = strip
      let i = 0
      for (let y = box.top; y < box.bottom; y++)
        for (let x = box.left; x < box.right; x++, i++) {
          const part = alpha[i]!
          if (part === 0) continue
          const at = (rowOf(y) * width + columnOf(x)) * (parts + 1)
          if (inks) for (let c = 0; c < 4; c++) sums[at + c]! += (1 - strip.planes[c]![i]!) * part
          else {
            read(strip, i, colour)
            for (let c = 0; c < 3; c++) sums[at + c]! += colour[c]! * part
          }
          sums[at + parts]! += part
        }
    }
  }
  for (let y = 0; y < whole.bottom; y++)
    for (let x = 0, row = rowOf(y) * width; x < whole.right; x++) counts[row + columnOf(x)]!++
  const rgba = new Uint8Array(width * height * 4)
  const means = new Uint8Array(counts.length * parts)
  for (let i = 0; i < counts.length; i++) {
    const from = i * (parts + 1)
    const part = sums[from + parts]!
    if (part > 0)
      for (let c = 0; c < parts; c++) means[i * parts + c] = Math.round((sums[from + c]! / part) * 255)
  }
  const rgb = inks ? inks(means, new Uint8Array(counts.length * 3)) : means
  for (let i = 0; i < counts.length; i++) {
    const part = sums[i * (parts + 1) + parts]!
    if (part === 0) continue
    for (let c = 0; c < 3; c++) rgba[i * 4 + c] = rgb[i * 3 + c]!
    rgba[i * 4 + 3] = Math.round((part / counts[i]!) * 255)
  }
  return { width, height, rgba }
}

/** A channel's ink for a small picture, 0..255; grey where the file gives none that is plainly a colour. */
function inkRgb(file: ArtFile, channelId: string): readonly [number, number, number] {
  const ink = file.art.channels.find(channel => channel.id === channelId)?.ink ?? null
  const [r, g, b] = ink === null ? [0.35, 0.35, 0.35] : plainRgb(ink)
  return [Math.round(r * 255), Math.round(g * 255), Math.round(b * 255)]
}

function plainRgb({ space, values }: InkColor): readonly [number, number, number] {
  const [a = 0, b = 0, c = 0, d = 0] = values
  switch (space) {
    case 'RGB':
      return [a, b, c]
    case 'CMYK':
      return [(1 - a) * (1 - d), (1 - b) * (1 - d), (1 - c) * (1 - d)]
    case 'Gray':
      return [a, a, a]
    case 'Lab':
    case 'HSB':
    case 'other':
      return [0.35, 0.35, 0.35]
  }
}
