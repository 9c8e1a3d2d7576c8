import { checkCancelled, type Task } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { BoxMm } from '../finding.ts'
import { bytesOf, inksOf } from '../plane-bytes.ts'
import { SpotArea } from '../spot-area.ts'

/** A build of white and ink that covers some of an area: pixels alike to the eighth of each tone. */
export interface Build {
  /** The pixel that stands for it: the last of the longest run along a row, where edges are farthest. */
  readonly x: number
  readonly y: number
  readonly mm2: number
  readonly box: BoxMm
}

/** Steps that each tone is sorted into. */
const steps = 8
/** Builds that are looked at; what is left is rare. */
const mostBuilds = 12

/** The builds of the pixels that are in, the largest first; at most 12. @param within 0 = out, one byte a pixel */
export function buildsOf(map: MaterialMap, within: Uint8Array, task?: Task): readonly Build[] {
  const { width, height } = map
  const planes = [
    ...inksOf(map).map(({ data }) => data),
    ...map.whites.flatMap(({ coverage }) => bytesOf(map, coverage) ?? []),
    ...[bytesOf(map, 'metal'), bytesOf(map, 'area')].filter(one => one !== null),
  ]
  const sort = Uint8Array.from({ length: 256 }, (_, tone) => Math.round((tone * steps) / 255))
  const found = new Map<string, { area: SpotArea; x: number; y: number; run: number }>()
  let last = ''
  let run = 0
  let one: { area: SpotArea; x: number; y: number; run: number } | null = null
  const key = new Uint8Array(planes.length)
  for (let y = 0, i = 0; y < height; y++) {
    if ((y & 63) === 0) checkCancelled(task)
    one = null
    for (let x = 0; x < width; x++, i++) {
      if (within[i] === 0) {
        one = null
        continue
      }
      let same = one !== null
      for (let p = 0; p < planes.length; p++) {
        const tone = sort[planes[p]![i]!]!
        if (key[p] !== tone) same = false
        key[p] = tone
      }
      if (same) run++
      else {
        run = 1
        last = key.join()
        one = found.get(last) ?? { area: new SpotArea(map), x, y, run: 0 }
        found.set(last, one)
      }
      one!.area.add(x, y)
      if (run > one!.run) {
        one!.run = run
        one!.x = x - (run >> 1)
        one!.y = y
      }
    }
  }
  return [...found.values()]
    .sort((a, b) => b.area.pixels - a.area.pixels)
    .slice(0, mostBuilds)
    .map(({ area, x, y }) => ({ x, y, mm2: area.mm2, box: area.box! }))
}
