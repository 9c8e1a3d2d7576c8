import type { BoxMm } from '../finding.ts'
import { flareLines, flareOf } from './flare.ts'
import type { CodeGround, Told } from './told.ts'

/** Gratings that throw the reader's own light into the reader. @param core symbol with its light margins */
export function flareFinding({ input, tables, limits }: CodeGround, core: BoxMm): readonly Told[] {
  const tilt = limits('codes.flare-tilt')
  const beside = limits('codes.flare-beside')
  const flare = flareOf(input.map, tables, core, beside.value, (tilt.value * Math.PI) / 180)
  if (flare === null) return []
  const { order, linesPerMm, under } = flare
  return [
    {
      severity: 'warning',
      code: 'code-flare',
      message: `a grating of ${Math.round(linesPerMm)} lines/mm ${under ? 'under' : 'beside'} it can throw the reader's own light into the reader (order ${order}), held within ${tilt.value}° of straight-on`,
      fix: `Keep gratings near ${Math.round(flareLines(order))} lines/mm ${beside.value} mm away from the code, or cover them with opaque white.`,
      measured: { value: linesPerMm, unit: 'lines/mm' },
      limit: beside,
    },
  ]
}
