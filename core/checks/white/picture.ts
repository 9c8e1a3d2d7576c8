import type { ArtFile } from '../../art/layer.ts'
import type { Task } from '../../base/task.ts'
import type { CheckInput } from '../input.ts'
import { drawnRows, rowsOf } from '../register/group-rows.ts'
import type { WhiteFromArt } from './from-art.ts'

/** White over the whole art, small: 0..255, row by row. */
export interface WhitePicture {
  readonly width: number
  readonly height: number
  /** White that the file has. */
  readonly drawn: Uint8Array
  /** The same with what was made beside it. */
  readonly made: Uint8Array
  readonly areaMm2: number
  readonly did: WhiteFromArt['made']
}

/**
 * White before and after one was made of the art, as means over squares of the document.
 * @param size longest side, pixels
 */
export async function whitePicture(
  file: ArtFile,
  assigned: CheckInput['assigned'],
  white: WhiteFromArt,
  size: number,
  task?: Task,
): Promise<WhitePicture> {
  const { art } = file
  const scale = Math.min(1, size / Math.max(art.width, art.height))
  const width = Math.max(1, Math.round(art.width * scale))
  const height = Math.max(1, Math.round(art.height * scale))
  const count = new Float64Array(width * height)
  const before = new Float64Array(width * height)
  const after = new Float64Array(width * height)
  const column = Int32Array.from({ length: art.width }, (_, x) => Math.floor((x * width) / art.width))
  const add = (y: number, row: Float32Array | null) => {
    const line = Math.floor((y * height) / art.height) * width
    for (let x = 0; x < art.width; x++) {
      const at = line + column[x]!
      const drawn = row === null ? 0 : row[x]!
      count[at]!++
      before[at]! += drawn
      after[at]! += Math.max(drawn, white.data[y * art.width + x]! / 255)
    }
  }
  const picture = drawnRows(assigned, file, 'white', task)
  let y = 0
  if (picture !== null) for await (const row of rowsOf(picture, task)) add(y++, row)
  for (; y < art.height; y++) add(y, null)
  const bytes = (sum: Float64Array) =>
    Uint8Array.from(sum, (value, i) => Math.round((255 * value) / count[i]!))
  return {
    width,
    height,
    drawn: bytes(before),
    made: bytes(after),
    areaMm2: white.areaMm2,
    did: white.made,
  }
}
