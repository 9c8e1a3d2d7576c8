import { knownKind } from '../../effects/kinds.ts'
import { plain } from '../../effects/plain.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { bytesOf } from '../plane-bytes.ts'
import { remedies } from '../remedy.ts'
import { SpotArea } from '../spot-area.ts'
import type { CoveragePlane } from '../white/contour.ts'
import { mm } from '../words.ts'
import { chordWidths } from './chords.ts'
import { found, measured } from './found.ts'

/** Part of an area that may be finer than its kind allows: ends and corners of good shapes are, and where others cut in. */
const fineShare = 0.6

/** Areas of holography that are too fine for what their kind does. Areas are known to a pixel of the map. */
export function smallEffects({ map, assigned }: CheckInput): readonly CheckFinding[] {
  const plane = map.planes.get('area')
  if (plane === undefined) return []
  const areas = plane.layout === 'full' ? plane.data : bytesOf(map, 'area')!
  const pixelMm = map.widthMm / map.width
  const reaches = reachesOf(areas, map.width)
  return map.areas.flatMap(({ id, name, layerId, effect }): readonly CheckFinding[] => {
    const kind = knownKind(effect)
    if (id === 0 || kind === undefined) return []
    const { smallestMm, says } = kind.limits
    const reach = reaches.get(id)
    if (reach === undefined) return []
    const cover = coverOf(areas, map.width, id, reach)
    const widths = chordWidths(cover, pixelMm)
    const fine = new SpotArea(map)
    let [all, widest] = [0, 0]
    for (let i = 0; i < widths.length; i++) {
      const wide = widths[i]!
      if (wide === 0) continue
      all++
      if (wide > widest) widest = wide
      // A pixel more or less is what the map does not know.
      if (wide + pixelMm < smallestMm)
        fine.add(reach.left + (i % cover.width), reach.top + Math.floor(i / cover.width))
    }
    if (fine.pixels <= fineShare * all) return []
    const whole = widest + pixelMm < smallestMm
    const target = assigned.find(one => one.role === 'holography' && one.target.id === layerId)?.target ?? {
      kind: 'outline',
      id: layerId,
    }
    return [
      found({
        severity: whole ? 'error' : 'warning',
        code: 'effect-too-small',
        of: layerId,
        where: `holography "${name}"`,
        message: `${whole ? 'all' : 'much'} of it is finer than ${mm(smallestMm)}, the smallest that ${kind.title.toLowerCase()} can be made with${whole ? `: it is ${mm(widest)} wide at most` : ''}`,
        fix: `Make it larger, or choose another kind. ${says}`,
        box: fine.box,
        measured: measured(widest, 'mm'),
        limit: {
          key: `effect.${kind.name}`,
          value: smallestMm,
          unit: 'mm',
          status: 'proposed',
          source: 'smallest feature of its kind, from how it works',
        },
        // One grating all over needs the least room; where some of an area is wide enough the design is a person's.
        remedy: whole && widest + pixelMm >= plain.limits.smallestMm ? remedies.plainEffect(target) : null,
      }),
    ]
  })
}

/** Columns and rows that an area reaches, right and bottom inclusive. */
interface Reach {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

function reachesOf(areas: ArrayLike<number>, width: number): ReadonlyMap<number, Reach> {
  const out = new Map<number, { left: number; right: number; top: number; bottom: number }>()
  for (let first = 0, y = 0; first < areas.length; first += width, y++)
    for (let x = 0; x < width; ) {
      const id = areas[first + x]!
      const from = x
      while (x < width && areas[first + x] === id) x++
      if (id === 0) continue
      const reach = out.get(id)
      if (reach === undefined) out.set(id, { left: from, right: x - 1, top: y, bottom: y })
      else {
        reach.left = Math.min(reach.left, from)
        reach.right = Math.max(reach.right, x - 1)
        reach.bottom = y
      }
    }
  return out
}

/** The pixels of an area within its reach. */
function coverOf(
  areas: ArrayLike<number>,
  width: number,
  id: number,
  { left, right, top, bottom }: Reach,
): CoveragePlane {
  const [columns, rows] = [right - left + 1, bottom - top + 1]
  const data = new Uint8Array(columns * rows)
  for (let y = 0, i = 0; y < rows; y++)
    for (let x = 0; x < columns; x++, i++) if (areas[(top + y) * width + left + x] === id) data[i] = 255
  return { width: columns, height: rows, data }
}
