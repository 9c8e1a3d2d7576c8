import { heldStrips } from '../../art/held-picture.ts'
import type { ArtFile } from '../../art/layer.ts'
import type { CodeReader, GreyPicture, ReadCode } from '../../base/code-reader.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { Point } from '../../carton/die.ts'
import { channelAmount } from '../../roles/amount.ts'
import { knockingLayers } from '../../roles/knocking.ts'
import { lightnessOf, type Rgb, rgbReader } from '../../roles/tone.ts'
import type { BoxMm } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { mapTile, overprints } from './art-tile.ts'
import { cutBars } from './cut-bars.ts'
import { boxAround, cornersOf, overlaps } from './place.ts'
import type { SymbolFrame } from './scan.ts'
import { darknessOf } from './tile.ts'

/** A code of the art, in mm from its lower left corner. */
export interface FoundCode extends Pick<ReadCode, 'kind' | 'text' | 'reversed' | 'modules'> {
  readonly frame: SymbolFrame
}

/** Enough to read the smallest retail code by; finer art is averaged to it. */
const searchPpi = 400
/** Sides of the pieces that are searched, and what neighbours share: the largest retail code is 75 mm. */
const piece = 3000
const shared = 1250

type Searched = Pick<CheckInput, 'file' | 'assigned' | 'map'>

/** What was found in the print. */
export interface SearchedPrint {
  /** Every code that can be read, from the upper left to the lower right. */
  readonly codes: readonly FoundCode[]
  /** Bars that an edge of the art has cut, in which none can be read. */
  readonly cut: readonly BoxMm[]
}

/** Looks for codes in all that is printed. Throws Cancelled when told to stop. */
export async function searchPrint(input: Searched, reader: CodeReader, task?: Task): Promise<SearchedPrint> {
  const { widthMm, heightMm } = input.map
  const picture = await searchPicture(input, task)
  const perMm = [picture.width / widthMm, picture.height / heightMm] as const
  const found: FoundCode[] = []
  for (const { left, top, part } of pieces(picture)) {
    checkCancelled(task)
    for (const code of await reader.read(part)) {
      const corners = code.corners.map(
        ([x, y]): Point => [(left + x) / perMm[0], heightMm - (top + y) / perMm[1]],
      )
      const frame = frameOf(corners)
      if (frame === null) continue
      const { kind, text, reversed, modules } = code
      const known = found.some(
        one => one.kind === kind && one.text === text && apart(one.frame, frame) < frame.heightMm / 2 + 2,
      )
      if (!known) found.push({ kind, text, reversed, modules, frame })
    }
  }
  const read = found.map(({ frame }) => boxAround(cornersOf(frame)))
  return {
    codes: found.sort((a, b) => b.frame.start[1] - a.frame.start[1] || a.frame.start[0] - b.frame.start[0]),
    cut: cutBars(picture, input.map).filter(box => !read.some(one => overlaps(one, box))),
  }
}

/** {@link searchPrint}, kept while art and what is printed of it stay the same. */
export function keptSearch(reader: CodeReader): (input: Searched, task?: Task) => Promise<SearchedPrint> {
  let last: { readonly file: ArtFile; readonly key: string; readonly print: SearchedPrint } | null = null
  return async (input, task) => {
    const { file, assigned, map } = input
    if (file === null) return searchPrint(input, reader, task)
    const printed = assigned.filter(({ role }) => role === 'overprint' || role === 'spotInk')
    const key = JSON.stringify([map.widthMm, map.heightMm, printed.map(({ role, target }) => [role, target])])
    if (last?.file !== file || last.key !== key)
      last = { file, key, print: await searchPrint(input, reader, task) }
    return last.print
  }
}

/** The print as a person sees it on white, y down; white ink, foil and holography are left out. */
async function searchPicture({ file, assigned, map }: Searched, task?: Task): Promise<GreyPicture> {
  if (file === null) {
    const tile = mapTile(map, { leftMm: 0, bottomMm: 0, rightMm: map.widthMm, topMm: map.heightMm })
    const data = Uint8Array.from({ length: tile.width * tile.height }, (_, i) =>
      Math.round(255 * (1 - darknessOf(tile, i))),
    )
    return { width: tile.width, height: tile.height, data }
  }
  const { art } = file
  const factor = Math.max(1, Math.floor(((art.width / map.widthMm) * 25.4) / searchPpi))
  const [width, height] = [Math.ceil(art.width / factor), Math.ceil(art.height / factor)]
  const sums = new Float32Array(width * height)
  const counts = new Uint16Array(width * height)
  const chosen = new Set(overprints(file, assigned).map(layer => layer.id))
  const spots = assigned.flatMap(({ role, target }) =>
    role === 'spotInk' && target.kind === 'channel'
      ? art.channels.filter(channel => channel.id === target.id)
      : [],
  )
  const knocking = new Set(knockingLayers(art, assigned))
  const rgb = rgbReader(art)
  const colour: Rgb = [0, 0, 0]
  for await (const surface of heldStrips(file, chosen, { knocking }, task)) {
    const { box, alpha } = surface
    const planes = await Promise.all(spots.map(({ plane }) => file.documentPlane(plane, box)))
    let i = 0
    for (let y = box.top; y < box.bottom; y++)
      for (let x = box.left; x < box.right; x++, i++) {
        let light = 1
        if (alpha[i]! > 0) {
          rgb(surface, i, colour)
          light = 1 - alpha[i]! * (1 - lightnessOf(colour[0], colour[1], colour[2]))
        }
        for (let s = 0; s < planes.length; s++) {
          const { box: own, data } = planes[s]!
          const at = (y - own.top) * (own.right - own.left) + x - own.left
          light *= 1 - spotDarkens * channelAmount(spots[s]!.kind, data, at)
        }
        const to = Math.floor(y / factor) * width + Math.floor(x / factor)
        sums[to]! += light
        counts[to]!++
      }
  }
  const data = Uint8Array.from(sums, (sum, i) => Math.round(255 * Math.min(1, sum / Math.max(1, counts[i]!))))
  return { width, height, data }
}
const spotDarkens = 0.6

function* pieces(picture: GreyPicture) {
  const { width, height, data } = picture
  for (const top of starts(height))
    for (const left of starts(width)) {
      const [w, h] = [Math.min(piece, width - left), Math.min(piece, height - top)]
      const part = new Uint8Array(w * h)
      for (let y = 0; y < h; y++)
        part.set(data.subarray((top + y) * width + left, (top + y) * width + left + w), y * w)
      yield { left, top, part: { width: w, height: h, data: part } }
    }
}

function starts(length: number): readonly number[] {
  const all = [0]
  while (all.at(-1)! + piece < length) all.push(all.at(-1)! + piece - shared)
  return all
}

/** From start above, end above, end below, start below; null where they span nothing. */
function frameOf([a, b, c, d]: readonly Point[]): SymbolFrame | null {
  const along = minus(middle(b!, c!), middle(a!, d!))
  const lengthMm = Math.hypot(...along)
  if (lengthMm === 0) return null
  const across: Point = [along[0] / lengthMm, along[1] / lengthMm]
  const below = minus(middle(c!, d!), middle(a!, b!))
  const side = Math.sign(across[1] * below[0] - across[0] * below[1]) || 1
  const down: Point = [side * across[1], -side * across[0]]
  const heightMm = below[0] * down[0] + below[1] * down[1]
  return heightMm > 0 ? { start: a!, across, down, lengthMm, heightMm } : null
}

const middle = (p: Point, q: Point): Point => [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]
const minus = (p: Point, q: Point): Point => [p[0] - q[0], p[1] - q[1]]

/** How far the middles of two symbols lie apart, mm. */
function apart(a: SymbolFrame, b: SymbolFrame): number {
  const [p, q] = [middleOf(a), middleOf(b)]
  return Math.hypot(p[0] - q[0], p[1] - q[1])
}

function middleOf({ start, across, down, lengthMm, heightMm }: SymbolFrame): Point {
  return [
    start[0] + (across[0] * lengthMm + down[0] * heightMm) / 2,
    start[1] + (across[1] * lengthMm + down[1] * heightMm) / 2,
  ]
}
