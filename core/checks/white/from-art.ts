import { checkCancelled, type Task } from '../../base/task.ts'
import type { BoxMm } from '../finding.ts'
import { moved } from './distance.ts'

/** What a white is made of: how it follows the art. Plain data, so that a job can keep it with the layer. */
export interface WhiteDesign {
  /** How far it stays inside the edge of what lies above it, mm, ≥ 0; below 0 it reaches beyond. */
  readonly chokeMm: number
  /** How far it reaches beyond patches, mm, ≥ 0. */
  readonly spreadMm: number
  /** Type below this size is not choked, pt. */
  readonly chokeFromPt: number
}

/** Something of the art that a white takes notice of. */
export type WhiteSource =
  /** White lies under it, choked. `typePt` is the size of type, null for all else. */
  | {
      readonly use: 'under'
      readonly name: string
      readonly coverage: Uint8Array
      readonly typePt: number | null
    }
  /** A box that is white throughout and beyond, for a code or a block of small type. */
  | { readonly use: 'patch'; readonly name: string; readonly box: BoxMm }
  /** Foil shows here, whatever lies above. */
  | { readonly use: 'knock-out'; readonly name: string; readonly coverage: Uint8Array }

/** A white plate as a new layer that can be taken or left. */
export interface WhiteFromArt {
  readonly width: number
  readonly height: number
  /** Coverage of white, 0..255, row by row from the top. */
  readonly data: Uint8Array
  readonly design: WhiteDesign
  /** What each part of the art did, in the order given. */
  readonly made: readonly {
    readonly name: string
    readonly did: 'choked' | 'unchoked type' | 'patch' | 'knock-out'
  }[]
  readonly areaMm2: number
}

interface Size {
  readonly width: number
  readonly height: number
  readonly widthMm: number
  readonly heightMm: number
}

/**
 * The white that art asks for. Objects are joined before they are choked, so that none parts from its neighbour; type
 * under the limit keeps its edge; patches go over both; knock-outs come last.
 * @param size pixels of every coverage, and the panel, mm
 * Throws RangeError for a coverage of another size, Cancelled when told to stop.
 */
export function whiteFromArt(
  size: Size,
  sources: readonly WhiteSource[],
  design: WhiteDesign,
  task?: Task,
): WhiteFromArt {
  const { width, height, widthMm, heightMm } = size
  const pixelMm = widthMm / width
  const joined = new Uint8Array(width * height)
  const type = new Uint8Array(width * height)
  const made: WhiteFromArt['made'][number][] = []
  for (const source of sources) {
    checkCancelled(task)
    if (source.use !== 'patch' && source.coverage.length !== joined.length)
      throw new RangeError(
        `coverage of "${source.name}": expected ${joined.length} pixels, got ${source.coverage.length}`,
      )
    switch (source.use) {
      case 'under': {
        const small = source.typePt !== null && source.typePt < design.chokeFromPt
        lay(small ? type : joined, source.coverage)
        made.push({ name: source.name, did: small ? 'unchoked type' : 'choked' })
        break
      }
      case 'patch':
        made.push({ name: source.name, did: 'patch' })
        break
      case 'knock-out':
        made.push({ name: source.name, did: 'knock-out' })
    }
  }
  task?.progress?.(0.2, 'Choking white')
  const data = moved({ width, height, data: joined }, pixelMm, -design.chokeMm, task)
  lay(data, type)
  for (const source of sources)
    if (source.use === 'patch') layBox(size, source.box, Math.max(0, design.spreadMm), data)
  for (const source of sources)
    if (source.use === 'knock-out')
      for (let i = 0; i < data.length; i++) data[i] = Math.min(data[i]!, 255 - source.coverage[i]!)
  const areaMm2 = (data.reduce((sum, one) => sum + one, 0) / 255) * pixelMm * (heightMm / height)
  return { width, height, data, design, made, areaMm2 }
}

/** Adds a coverage: soft pixels of two neighbours fill a pixel together, so nothing shows where they meet. */
function lay(into: Uint8Array, coverage: Uint8Array): void {
  for (let i = 0; i < into.length; i++) into[i] = Math.min(255, into[i]! + coverage[i]!)
}

/** A box with its edges to the part of a pixel. */
function layBox(
  { width, height, widthMm, heightMm }: Size,
  box: BoxMm,
  spread: number,
  data: Uint8Array,
): void {
  const part = (from: number, to: number, i: number) => Math.max(0, Math.min(to, i + 1) - Math.max(from, i))
  const left = ((box.leftMm - spread) / widthMm) * width
  const right = ((box.rightMm + spread) / widthMm) * width
  const top = (1 - (box.topMm + spread) / heightMm) * height
  const bottom = (1 - (box.bottomMm - spread) / heightMm) * height
  for (let y = Math.max(0, Math.floor(top)); y < Math.min(height, bottom); y++)
    for (let x = Math.max(0, Math.floor(left)); x < Math.min(width, right); x++) {
      const at = y * width + x
      const covered = part(left, right, x) * part(top, bottom, y)
      data[at] = Math.max(data[at]!, Math.round(255 * covered))
    }
}
