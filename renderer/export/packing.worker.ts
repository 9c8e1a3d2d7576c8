import { gifFrame } from '../../core/base/gif.ts'
import type { PngPicture } from '../../core/base/png.ts'
import { writePng } from '../../core/export/png.ts'
import type { PackAsked, Packing, PackTold, ReadPicture } from './packers.ts'

self.onmessage = ({ data }: MessageEvent<PackAsked>) => {
  const { id } = data
  try {
    const bytes = packed(data)
    self.postMessage({ id, bytes } satisfies PackTold, { transfer: [bytes.buffer] })
  } catch (error) {
    self.postMessage({ id, error: error instanceof Error ? error.message : String(error) } satisfies PackTold)
  }
}

function packed(packing: Packing): Uint8Array<ArrayBuffer> {
  const picture = plain(packing.picture)
  switch (packing.kind) {
    case 'png':
      return writePng(picture, packing.gamut)
    case 'gif':
      return gifFrame({ ...packing, picture })
  }
}

/** Without an alpha that says nothing. */
function plain({ width, height, rgba, clear }: ReadPicture): PngPicture {
  if (clear) return { width, height, channels: 4, data: rgba }
  const data = new Uint8Array(width * height * 3)
  for (let i = 0; i < width * height; i++) for (let c = 0; c < 3; c++) data[3 * i + c] = rgba[4 * i + c]!
  return { width, height, channels: 3, data }
}
