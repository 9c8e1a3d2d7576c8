import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { MapSampler } from '../../reference/sample.ts'
import { emptySite, type Site } from '../../reference/shade.ts'
import type { BoxMm } from '../finding.ts'

/** Modules of text below a retail symbol: 25.91 mm in all over 22.85 mm of bars, at 0.33 mm. GS1, from memory. */
export const textModules = 9.3
/** A white that covers less than this of a pixel is a hole. */
const covering = 0.95

export interface WhitePatch {
  /** Whether any of the ground is metal at all: bare board needs no white. */
  readonly onMetal: boolean
  /** How far full white goes on beyond symbol, light margins and text, mm; below 0 where it ends inside. */
  readonly marginMm: number
  /** Part of symbol, light margins and text that has no full white under it. */
  readonly without: number
  /** Lowest measured opacity of one hit among the whites that lie there; null without white. */
  readonly opacity: number | null
}

/**
 * The white under a code, from the map.
 * @param core     symbol, light margins and text
 * @param lookedMm how far beyond is looked at
 */
export function whitePatch(map: MaterialMap, tables: Tables, core: BoxMm, lookedMm: number): WhitePatch {
  const site = emptySite(tables)
  const sampler = new MapSampler(map)
  const { width, height, widthMm, heightMm } = map
  const [perX, perY] = [width / widthMm, height / heightMm]
  const clip = (v: number, most: number) => Math.min(most, Math.max(0, v))
  const left = clip(Math.floor((core.leftMm - lookedMm) * perX), width)
  const right = clip(Math.ceil((core.rightMm + lookedMm) * perX), width)
  const top = clip(Math.floor((heightMm - core.topMm - lookedMm) * perY), height)
  const bottom = clip(Math.ceil((heightMm - core.bottomMm + lookedMm) * perY), height)
  let onMetal = false
  let marginMm = lookedMm
  let inside = 0
  let bare = 0
  let opacity: number | null = null
  for (let row = top; row < bottom; row++)
    for (let column = left; column < right; column++) {
      sampler.fill(column, row, site)
      const x = (column + 0.5) / perX
      const y = heightMm - (row + 0.5) / perY
      const beyond = Math.max(core.leftMm - x, x - core.rightMm, core.bottomMm - y, y - core.topMm)
      if (beyond <= 0) inside++
      if (site.metal < 0.5) continue
      onMetal = true
      const covered = coverOf(site)
      if (covered < covering) {
        marginMm = Math.min(marginMm, beyond)
        if (beyond <= 0) bare++
      }
      if (covered > 0.05 && beyond <= 0)
        map.whites.forEach((white, i) => {
          if (site.whites[i]! > 0.05) opacity = Math.min(opacity ?? 1, white.opacity)
        })
    }
  return { onMetal, marginMm, without: inside === 0 ? 0 : bare / inside, opacity }
}

function coverOf({ whites }: Site): number {
  let left = 1
  for (let i = 0; i < whites.length; i++) left *= 1 - whites[i]!
  return 1 - left
}
