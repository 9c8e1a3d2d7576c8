import type { DrawnSymbol } from './drawn-symbol.ts'
import { decodes, judgeBars } from './judge.ts'
import { ReaderLight, type ReaderPose } from './light.ts'
import { lineHeights } from './scan.ts'
import { ReaderSurface } from './surface.ts'
import type { CodeGround, Told } from './told.ts'

/** Lines that are enough to see whether it reads at all. */
const fewLines = [lineHeights[1]!, lineHeights[4]!, lineHeights[8]!]

/** A code that reads straight on and is lost to a reader that leans. @param along direction of the bars, radians */
export function tiltFinding(
  { input, tables, tile, limits }: CodeGround,
  symbol: DrawnSymbol,
  along: number,
): readonly Told[] {
  const tilt = limits('codes.tilt')
  if (tilt.value === 0) return []
  const ruling = limits('codes.screen-ruling').value / 10
  const poses = [0, 1, 2, 3].map(
    (quarter): ReaderPose => ({ tiltDeg: tilt.value, towards: along + (quarter * Math.PI) / 2 }),
  )
  const lost = poses.filter(pose => {
    const surface = new ReaderSurface(input.map, tile, new ReaderLight(tables, 'along', along, pose), ruling)
    return !decodes(judgeBars(surface, symbol, fewLines))
  }).length
  if (lost === 0) return []
  return [
    {
      severity: 'warning',
      code: 'code-tilt',
      message: `it reads straight on, but not with the reader leaning ${tilt.value}° ${lost === 4 ? 'to any side' : `to ${lost} of 4 sides`}`,
      fix: 'Print it on an opaque white that reaches under its light margins, away from holography.',
      measured: { value: lost, unit: 'of 4 sides' },
      limit: tilt,
    },
  ]
}
