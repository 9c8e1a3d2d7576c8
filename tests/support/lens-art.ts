import type { ArtFile } from '../../core/art/layer.ts'
import { readArt } from '../../core/art/read.ts'
import { memorySource } from '../../core/base/source.ts'
import type { Job } from '../../core/job/job.ts'
import { newJob } from '../../core/job/new.ts'
import { writePsd } from './psd-write.ts'

/** 120 × 80 px at 300 ppi: 10.16 × 6.773 mm. Holography left, cyan ink right, white over the upper half. */
export const lensSize = { width: 120, height: 80, ppi: 300 } as const

const plane = (width: number, height: number, value: number) => new Uint8Array(width * height).fill(value)
/** The file's highest value is no ink. */
const none = 255
const solid = 0

/** Where plates lie, px: holography and ink to the right, white up. */
export interface LensPlates {
  readonly holography: number
  readonly ink: number
  readonly white: number
}

/** A small carton front: one layer of holography, one of ink, a spot channel of white. */
export function lensArt(
  inkName = 'Ink',
  plates: LensPlates = { holography: 0, ink: 0, white: 0 },
): Uint8Array {
  const { width, height, ppi } = lensSize
  const half = width / 2
  const white = plane(width, height, none)
  white.fill(solid, 0, width * (height / 2 - plates.white))
  const cyan = plane(width, height, none)
  const inkFrom = half + plates.ink
  const ink = width - inkFrom
  for (let y = 0; y < height; y++) cyan.fill(solid, y * width + inkFrom, (y + 1) * width)
  const clear = plane(width, height, none)
  return writePsd({
    width,
    height,
    mode: 'CMYK',
    depth: 8,
    ppi,
    layers: [
      {
        name: 'Holo lens rings',
        id: 3,
        box: { left: plates.holography, top: 0, right: half + plates.holography, bottom: height },
        planes: {
          [-1]: plane(half, height, 255),
          0: plane(half, height, none),
          1: plane(half, height, none),
          2: plane(half, height, none),
          3: plane(half, height, none),
        },
      },
      {
        name: inkName,
        id: 4,
        box: { left: inkFrom, top: 0, right: width, bottom: height },
        planes: {
          [-1]: plane(ink, height, 255),
          0: plane(ink, height, solid),
          1: plane(ink, height, none),
          2: plane(ink, height, none),
          3: plane(ink, height, none),
        },
      },
    ],
    composite: [cyan, clear, clear, clear],
    channels: [
      {
        name: 'White',
        kind: 'spot',
        ink: { space: 'CMYK', values: [0, 0, 0, 0] },
        solidity: 0.5,
        data: white,
      },
    ],
  })
}

/** The same, read, with a new job for it. */
export async function lensJob(): Promise<{ readonly file: ArtFile; readonly job: Job }> {
  const file = await readArt(memorySource('lens.psd', lensArt()))
  return { file, job: newJob(file.art, 'ab'.repeat(32), 'lens.psd', []) }
}
