import { pathBounds } from '../art/drawn/bounds.ts'
import { join } from '../art/ink/outline.ts'
import type { Art, ArtFile, Box, InkColor, Layer } from '../art/layer.ts'
import { checkCancelled, type Task } from '../base/task.ts'
import { channelAmount } from '../roles/amount.ts'
import type { Target } from '../roles/role.ts'
import { assumedPpi } from './usual.ts'

/** Art as it lay when it met a job: a later state of it is held against this. */
export interface SeenArt {
  readonly widthMm: number
  readonly heightMm: number
  /** Side of a pixel, mm: places are known no finer. */
  readonly pixelMm: number
  readonly parts: readonly SeenPart[]
}

/** A layer or a channel. */
export interface SeenPart {
  readonly target: Target
  readonly name: string
  /** Where it lies; null where nothing is painted, and of a group. */
  readonly boxMm: BoxMm | null
  /** What stands for the ink of a channel; null where the file does not say, and of a layer. */
  readonly ink: InkColor | null
  /** An ink that layers print: what becomes of its place is told of them. */
  readonly ofLayers?: true
}

/** Left, bottom, right, top in mm from the art's lower left corner. */
type BoxMm = readonly [number, number, number, number]

/** Less of an ink than this, 0..1, is taken for noise of its coding. */
const leastAmount = 0.02
/** Rows of planes that are held at once. */
const rowsAtOnce = 512

/** What is kept of art. Channels that no layer prints are looked through for where they are painted. */
export async function seenArt(file: ArtFile, task?: Task): Promise<SeenArt> {
  const { art } = file
  const pixelMm = 25.4 / (art.resolutionPpi ?? assumedPpi)
  const inMm = (box: Box | null): BoxMm | null =>
    box === null || box.right <= box.left || box.bottom <= box.top
      ? null
      : [
          micrometres(box.left * pixelMm),
          micrometres((art.height - box.bottom) * pixelMm),
          micrometres(box.right * pixelMm),
          micrometres((art.height - box.top) * pixelMm),
        ]
  const boxes = await channelBoxes(file, task)
  return {
    widthMm: micrometres(art.width * pixelMm),
    heightMm: micrometres(art.height * pixelMm),
    pixelMm: Number(pixelMm.toFixed(6)),
    parts: [
      ...art.layers.map(
        ({ id, name, kind, box, outlines }): SeenPart => ({
          target: { kind: 'layer', id },
          name,
          boxMm: kind === 'group' ? null : atOutlines(inMm(box), outlines, pixelMm),
          ink: null,
        }),
      ),
      ...art.channels.map(
        ({ id, name, ink, layers }, i): SeenPart => ({
          target: { kind: 'channel', id },
          name,
          boxMm: inMm(boxes[i]!),
          ink,
          ...(layers === undefined ? {} : { ofLayers: true }),
        }),
      ),
    ],
  }
}

/** A box whose edges are those of the outlines inside it, where these end within two pixels: pixels are rounded outwards. */
function atOutlines(box: BoxMm | null, outlines: Layer['outlines'], pixelMm: number): BoxMm | null {
  const [first, ...more] = (outlines ?? []).map(({ path }) => pathBounds(path))
  if (box === null || first === undefined) return box
  const drawn = more.reduce(join, first)
  const at = (i: 0 | 1 | 2 | 3) =>
    Math.abs(drawn[i] - box[i]) < 2 * pixelMm ? micrometres(drawn[i]) : box[i]
  return [at(0), at(1), at(2), at(3)]
}

/** Where each channel is painted: of one that layers print, where they lie. */
async function channelBoxes(file: ArtFile, task?: Task): Promise<readonly (Box | null)[]> {
  const { art } = file
  const boxes = art.channels.map(channel => (channel.layers ? around(art, channel.layers) : null))
  const read = art.channels.flatMap(({ layers }, i) => (layers ? [] : [i]))
  for (let top = 0; top < art.height && read.length > 0; top += rowsAtOnce) {
    checkCancelled(task)
    task?.progress?.(top / art.height, 'looking where inks lie')
    const rows = { top, bottom: Math.min(art.height, top + rowsAtOnce) }
    for (const i of read) {
      const { plane, kind } = art.channels[i]!
      const { box, data } = await file.documentPlane(plane, rows)
      const width = box.right - box.left
      for (let y = Math.max(rows.top, box.top); y < Math.min(rows.bottom, box.bottom); y++) {
        const from = (y - box.top) * width
        const painted = (x: number) => channelAmount(kind, data, from + x) > leastAmount
        let left = 0
        while (left < width && !painted(left)) left++
        if (left === width) continue
        let right = width
        while (!painted(right - 1)) right--
        const row = { left: box.left + left, top: y, right: box.left + right, bottom: y + 1 }
        boxes[i] = united(boxes[i]!, row)
      }
    }
  }
  return boxes
}

function around(art: Art, ids: readonly string[]): Box | null {
  const boxes = art.layers
    .filter(({ id, box }) => ids.includes(id) && box.right > box.left && box.bottom > box.top)
    .map(layer => layer.box)
  return boxes.reduce<Box | null>(united, null)
}

const united = (a: Box | null, b: Box): Box =>
  a === null
    ? b
    : {
        left: Math.min(a.left, b.left),
        top: Math.min(a.top, b.top),
        right: Math.max(a.right, b.right),
        bottom: Math.max(a.bottom, b.bottom),
      }

const micrometres = (mm: number): number => Math.round(mm * 1000) / 1000
