import type { MaterialMap } from '../../core/material/map.ts'
import { stackAt } from '../../core/material/sample.ts'
import type { SpotReading } from '../panels/SpotNote.tsx'
import { linesPerMm } from '../state/angles.ts'

export function readingAt(map: MaterialMap, xMm: number, yMm: number): Omit<SpotReading, 'css' | 'lab'> {
  const stack = stackAt(map, xMm, yMm)
  return {
    cmyk: stack.cmyk,
    spots: stack.spots
      .map((spot, i) => ({ name: map.spots[i]?.name ?? 'Spot ink', coverage: spot.coverage }))
      .filter(spot => spot.coverage > 0),
    whites: stack.whites
      .map((white, i) => ({ ...white, name: map.whites[i]?.name ?? 'White' }))
      .filter(white => white.coverage > 0),
    gratings: stack.gratings.map(one => ({
      pitchNm: one.pitch,
      linesPerMm: linesPerMm(one.pitch),
      azimuthDeg: ((((one.azimuth * 180) / Math.PI) % 180) + 180) % 180,
      grooveDepthNm: one.grooveDepth,
      share: one.share,
    })),
    area: null,
  }
}
