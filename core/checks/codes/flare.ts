import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { MapSampler } from '../../reference/sample.ts'
import { emptySite } from '../../reference/shade.ts'
import type { BoxMm } from '../finding.ts'
import { readerWavelength } from './light.ts'

/**
 * Lines a millimetre across the light's plane that send order `m` of light at 45° straight up into the reader, which
 * leans by `tilt` towards its light: (sin(45° + tilt) + sin tilt) / m λ. The grating equation; at no tilt 1071.4 and 535.7.
 */
export function flareLines(m: number, tilt = 0, wavelengthNm: number = readerWavelength): number {
  return (1e6 * (Math.sin(Math.PI / 4 + tilt) + Math.sin(tilt))) / (m * wavelengthNm)
}

export interface Flare {
  readonly order: 1 | 2
  readonly linesPerMm: number
  /** Part of the looked-at area that can flare. */
  readonly part: number
  readonly under: boolean
}

/** Two orders reach a reader with some power; a third would ask for grooves of 2.8 µm, deep ones. */
const orders = [1, 2] as const
/** A white of the usual kind lets no more than this of a straight ray through. */
const stopsAbove = 0.9

/**
 * Gratings under or beside a symbol that can throw the reader's own light back into it, readers being held any way
 * round. Null where there are none.
 * @param core  the symbol with its light margins
 * @param tilt  how far a reader leans, radians, to either side
 */
export function flareOf(
  map: MaterialMap,
  tables: Tables,
  core: BoxMm,
  besideMm: number,
  tilt: number,
): Flare | null {
  if (map.gratings.length === 0 && (map.viewSets?.length ?? 0) === 0) return null
  const site = emptySite(tables)
  const sampler = new MapSampler(map)
  const { width, height, widthMm, heightMm } = map
  const [perX, perY] = [width / widthMm, height / heightMm]
  const clip = (v: number, most: number) => Math.min(most, Math.max(0, v))
  const bands = orders.map(m => ({ m, from: flareLines(m, -tilt), to: flareLines(m, tilt) }))
  let count = 0
  const hits = new Map<1 | 2, { n: number; lines: number; under: boolean }>()
  const first = clip(Math.floor((heightMm - core.topMm - besideMm) * perY), height)
  const last = clip(Math.ceil((heightMm - core.bottomMm + besideMm) * perY), height)
  const left = clip(Math.floor((core.leftMm - besideMm) * perX), width)
  const right = clip(Math.ceil((core.rightMm + besideMm) * perX), width)
  for (let row = first; row < last; row++)
    for (let column = left; column < right; column++) {
      count++
      sampler.fill(column, row, site)
      if (site.metal < 0.05 || site.gratings === 0 || site.whites.some(white => white > stopsAbove)) continue
      const [x, y] = [(column + 0.5) / perX, heightMm - (row + 0.5) / perY]
      const under = x > core.leftMm && x < core.rightMm && y > core.bottomMm && y < core.topMm
      for (const { m, from, to } of bands) {
        const lines = linesWithin(site.pitch, site.share, site.gratings, from, to)
        if (lines === null) continue
        const hit = hits.get(m) ?? { n: 0, lines, under: false }
        hits.set(m, { n: hit.n + 1, lines: hit.lines, under: hit.under || under })
        break
      }
    }
  const order = orders.find(m => hits.has(m))
  if (order === undefined) return null
  const { n, lines, under } = hits.get(order)!
  return { order, linesPerMm: lines, part: n / count, under }
}

function linesWithin(
  pitch: Float64Array,
  share: Float64Array,
  count: number,
  from: number,
  to: number,
): number | null {
  for (let i = 0; i < count; i++) {
    const lines = 1e6 / pitch[i]!
    if (share[i]! > 0 && lines >= from && lines <= to) return lines
  }
  return null
}
