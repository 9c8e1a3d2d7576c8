import { compositeStrips } from '../art/composite.ts'
import type { ArtFile, Box } from '../art/layer.ts'
import type { Task } from '../base/task.ts'
import { amountReader, channelAmount } from '../roles/amount.ts'
import { justThese, reachOf } from '../roles/members.ts'
import type { Coverage, CoverageRows, Need } from './covered.ts'
import { outlineRows } from './outline-rows.ts'
import type { AreaSource, MadeSource } from './plates.ts'
import { SurfaceRows } from './rows.ts'

export type { Coverage, CoverageRows } from './covered.ts'

export interface StripOptions {
  /** Document rows composited at once. */
  readonly rows: number
  /** Bytes of decoded planes kept between strips. */
  readonly keep: number
  readonly task: Task | undefined
}

/** @param need what of it is looked at: colours of layers are only read where their amount or their reader asks for them */
export function coverageRows(
  file: ArtFile,
  source: AreaSource | MadeSource,
  options: StripOptions,
  need: Need,
): CoverageRows {
  if (source.kind === 'made') {
    const { width } = file.art
    return {
      over: async (top, bottom) => ({
        box: { left: 0, top, right: width, bottom },
        data: Float32Array.from(source.made.data.subarray(top * width, bottom * width), byte => byte / 255),
        surface: null,
      }),
    }
  }
  if (source.kind === 'outline')
    return outlineRows({ ...source, width: file.art.width, height: file.art.height }, source.outline)
  if (source.kind === 'channel') {
    const { channel } = source
    return {
      over: async (top, bottom) => {
        const plane = await file.documentPlane(channel.plane, { top, bottom })
        const width = plane.box.right - plane.box.left
        const skip = (top - plane.box.top) * width
        const data = new Float32Array(width * (bottom - top))
        for (let i = 0; i < data.length; i++) data[i] = channelAmount(channel.kind, plane.data, skip + i)
        return { box: { ...plane.box, top, bottom }, data, surface: null }
      },
    }
  }
  const region = reachOf(file.art, source.layers)
  const read = amountReader(file, source.amount)
  const asPainted = source.amount.from === 'alpha' || source.amount.from === 'plane'
  const colours = need === 'colour' || !asPainted
  const rows = new SurfaceRows(layerStrips(file, source.layers, region, options, colours), region)
  return {
    over: async (top, bottom) => {
      const surface = await rows.over(top, bottom)
      if (!surface) return null
      if (asPainted) return { box: surface.box, data: surface.alpha, surface }
      const data = new Float32Array(surface.alpha.length)
      for (let i = 0; i < data.length; i++) data[i] = read(surface, i)
      return { box: surface.box, data, surface }
    },
  }
}

function layerStrips(
  file: ArtFile,
  layers: Parameters<typeof justThese>[1],
  region: Box,
  options: StripOptions,
  colours: boolean,
) {
  const quiet = options.task?.signal ? { signal: options.task.signal } : undefined
  return compositeStrips(
    file,
    { ...justThese(file.art, layers), region, stripRows: options.rows, keep: options.keep, colours },
    quiet,
  )
}

/** Several amounts painted over one another: 1 − Π(1 − a), document rows top..bottom, whole width. */
export async function unionRows(
  all: readonly CoverageRows[],
  width: number,
  top: number,
  bottom: number,
): Promise<Coverage> {
  const box: Box = { left: 0, top, right: width, bottom }
  const data = new Float32Array(width * (bottom - top))
  for (const one of all) {
    const part = await one.over(top, bottom)
    if (!part) continue
    let i = 0
    for (let y = part.box.top; y < part.box.bottom; y++) {
      const line = (y - top) * width
      if (y < top || y >= bottom) {
        i += part.box.right - part.box.left
        continue
      }
      for (let x = part.box.left; x < part.box.right; x++, i++)
        data[line + x] = 1 - (1 - data[line + x]!) * (1 - part.data[i]!)
    }
  }
  return { box, data, surface: null }
}
