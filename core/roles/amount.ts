import { compositeStrips, type Surface } from '../art/composite.ts'
import { type ArtFile, type Box, type Plane, processCount } from '../art/layer.ts'
import type { Task } from '../base/task.ts'
import { justThese, leavesOf, reachOf } from './members.ts'
import type { Amount, Target } from './role.ts'
import { lightnessOf, type Rgb, rgbReader } from './tone.ts'

/** Reads the amount of pixel `i` of a surface, 0..1. */
export type AmountReader = (surface: Surface, i: number) => number

/** How an amount is read from the composited pixels of a layer. Beyond CMYK a stand-in ink is what plain separation gives. */
export function amountReader(file: ArtFile, amount: Amount): AmountReader {
  const rgb = rgbReader(file.art)
  const colour: Rgb = [0, 0, 0]
  const lightness = (surface: Surface, i: number) => lightnessOf(...rgb(surface, i, colour))
  switch (amount.from) {
    case 'alpha':
    case 'plane':
      return (surface, i) => surface.alpha[i]!
    case 'darkness':
      return (surface, i) => surface.alpha[i]! * (1 - lightness(surface, i))
    case 'lightness':
      return (surface, i) => surface.alpha[i]! * lightness(surface, i)
    case 'ink': {
      const index = 'CMYK'.indexOf(amount.ink)
      if (file.art.colorMode === 'CMYK')
        return (surface, i) => surface.alpha[i]! * (1 - surface.planes[index]![i]!)
      return (surface, i) => {
        const [r, g, b] = rgb(surface, i, colour)
        const black = 1 - Math.max(r, g, b)
        const ink = index === 3 || black === 1 ? black : (1 - black - colour[index]!) / (1 - black)
        return surface.alpha[i]! * ink
      }
    }
  }
}

/** A spot plane's highest value is no ink; a saved selection's and a transparency's is all of it. */
export function channelAmount(
  kind: 'spot' | 'alpha' | 'transparency',
  data: Plane['data'],
  i: number,
): number {
  const top = data instanceof Uint8Array ? 255 : data instanceof Uint16Array ? 65535 : 1
  const value = data[i]! / top
  return kind === 'spot' ? 1 - value : value
}

export interface AmountPicture {
  readonly width: number
  readonly height: number
  /** 255 = full. */
  readonly data: Uint8Array
}

/**
 * The amount that a layer, group or channel gives over a region of the document, 0..255, for a preview.
 * @param region  document pixels
 * @param longest longest side of the picture that comes back, pixels: document pixels are averaged, never enlarged
 */
export async function readAmount(
  file: ArtFile,
  target: Target,
  amount: Amount,
  region: Box,
  longest = Number.POSITIVE_INFINITY,
  task?: Task,
): Promise<AmountPicture> {
  const fullWidth = region.right - region.left
  const fullHeight = region.bottom - region.top
  const scale = Math.min(1, longest / Math.max(fullWidth, fullHeight))
  const width = Math.max(1, Math.round(fullWidth * scale))
  const height = Math.max(1, Math.round(fullHeight * scale))
  const sums = new Float64Array(width * height)
  const counts = new Uint32Array(width * height)
  for (let y = 0; y < fullHeight; y++)
    for (let x = 0; x < fullWidth; x++)
      counts[Math.floor((y * height) / fullHeight) * width + Math.floor((x * width) / fullWidth)]!++
  const add = (x: number, y: number, value: number) => {
    const column = Math.floor(((x - region.left) * width) / fullWidth)
    sums[Math.floor(((y - region.top) * height) / fullHeight) * width + column]! += value
  }
  if (target.kind === 'channel') await addChannel(file, target.id, region, add)
  else await addLayers(file, target.id, amount, region, add, task)
  const data = Uint8Array.from(sums, (sum, i) => Math.round((sum / counts[i]!) * 255))
  return { width, height, data }
}

type Add = (x: number, y: number, value: number) => void

async function addChannel(file: ArtFile, id: string, region: Box, add: Add): Promise<void> {
  const channel = file.art.channels.find(one => one.id === id)
  if (!channel) return
  const { box, data } = await file.documentPlane(channel.plane, region)
  const stride = box.right - box.left
  for (let y = Math.max(region.top, box.top); y < Math.min(region.bottom, box.bottom); y++)
    for (let x = Math.max(region.left, box.left); x < Math.min(region.right, box.right); x++)
      add(x, y, channelAmount(channel.kind, data, (y - box.top) * stride + x - box.left))
}

async function addLayers(
  file: ArtFile,
  id: string,
  amount: Amount,
  region: Box,
  add: Add,
  task: Task | undefined,
): Promise<void> {
  const leaves = leavesOf(file.art, id)
  const reach = reachOf(file.art, leaves)
  const part: Box = {
    left: Math.max(region.left, reach.left),
    top: Math.max(region.top, reach.top),
    right: Math.min(region.right, reach.right),
    bottom: Math.min(region.bottom, reach.bottom),
  }
  if (part.right <= part.left || part.bottom <= part.top || processCount(file.art.colorMode) === 0) return
  const read = amountReader(file, amount)
  for await (const strip of compositeStrips(file, { ...justThese(file.art, leaves), region: part }, task)) {
    const { box } = strip
    let i = 0
    for (let y = box.top; y < box.bottom; y++)
      for (let x = box.left; x < box.right; x++) add(x, y, read(strip, i++))
  }
}
