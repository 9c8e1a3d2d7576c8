import type { Job, LampPath } from '../../core/job/job.ts'
import { blankJob } from '../../core/job/new.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { sinusoid } from '../../core/optics/groove.ts'
import { type PaintPlan, paintMap } from './paint-map.ts'

/** Patches along a side of the chart. */
export const chartSide = 4

const plan: PaintPlan = {
  size: 128,
  sideMm: 80,
  gratings: 1,
  whites: [{ opacity: 0.95, hits: 2 }],
  spots: [],
  varnish: false,
}

/** Sixteen even patches: inks on an opaque white, the last row without print over holography that the lamp moves through. */
export function chartMap(): MaterialMap {
  return paintMap(plan, (x, y) => {
    const column = Math.floor(((x + 1) / 2) * chartSide)
    const row = Math.floor(((y + 1) / 2) * chartSide)
    if (row === 0)
      return {
        gratings: [
          {
            pitch: 900 + 100 * column,
            azimuth: Math.PI / 2,
            grooveDepth: 80,
            groove: sinusoid,
            share: 1,
            spreadAlong: 0,
            spreadAcross: 0,
          },
        ],
      }
    return { whites: [1], cmyk: patches[row - 1]![column]! }
  })
}

const patches: readonly (readonly (readonly [number, number, number, number])[])[] = [
  [
    [1, 0, 0, 0],
    [0, 1, 0, 0],
    [0, 0, 1, 0],
    [0, 0, 0, 1],
  ],
  [
    [1, 1, 0, 0],
    [0, 1, 1, 0],
    [1, 0, 1, 0],
    [0, 0, 0, 0.5],
  ],
  [
    [0, 0, 0, 0],
    [0.2, 0.4, 0.4, 0],
    [0.6, 0.2, 0.1, 0],
    [0, 0, 0, 0.2],
  ],
]

/** Two paths: a lamp that swings over the chart and is where it began after 0.8 s, and one that flashes for a second. */
export function chartJob(): Job {
  const job = blankJob(80, 80)
  const lamp = { ...job.light.lamps[0].pose, elevationDeg: 55 }
  const key = (timeS: number, azimuthDeg: number) => ({
    timeS,
    lamp: { ...lamp, azimuthDeg },
    pose: job.view.pose,
    others: [],
    eye: null,
    ease: 'flow' as const,
  })
  const round: LampPath = {
    name: 'Round',
    loop: true,
    keys: [key(0, 90), key(0.2, 100), key(0.4, 110), key(0.6, 100), key(0.8, 90)],
  }
  // From the chart's front to its edge and back six times a second: WCAG 2.2, 2.3.1 allows three.
  const shutter: LampPath = {
    name: 'Shutter',
    loop: false,
    keys: Array.from({ length: 13 }, (_, i) => ({
      ...key(i / 12, 90),
      lamp: { ...lamp, elevationDeg: i % 2 === 0 ? 88 : 5 },
    })),
  }
  return { ...job, paths: [round, shutter] }
}
