import { knownKind } from '../../effects/kinds.ts'
import { plain } from '../../effects/plain.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { bytesOf } from '../plane-bytes.ts'
import { remedies } from '../remedy.ts'
import { SpotArea } from '../spot-area.ts'
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
  return map.areas.flatMap(({ id, name, layerId, effect }): readonly CheckFinding[] => {
    const kind = knownKind(effect)
    if (id === 0 || kind === undefined) return []
    const { smallestMm, says } = kind.limits
    const cover = Uint8Array.from(areas, one => (one === id ? 255 : 0))
    const widths = chordWidths({ width: map.width, height: map.height, data: cover }, pixelMm)
    const all = new SpotArea(map)
    const fine = new SpotArea(map)
    let widest = 0
    for (let y = 0, i = 0; y < map.height; y++)
      for (let x = 0; x < map.width; x++, i++) {
        if (cover[i] === 0) continue
        all.add(x, y)
        widest = Math.max(widest, widths[i]!)
        // A pixel more or less is what the map does not know.
        if (widths[i]! + pixelMm < smallestMm) fine.add(x, y)
      }
    if (fine.pixels <= fineShare * all.pixels) return []
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
