import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { FoundCode } from './find.ts'
import { boxAround, cornersOf } from './place.ts'

/** Areas kept for a code in which no code can be read. */
export function unreadAreas(
  { art, assigned, map }: Pick<CheckInput, 'art' | 'assigned' | 'map'>,
  codes: readonly FoundCode[],
): readonly CheckFinding[] {
  const boxes = codes.map(({ frame }) => boxAround(cornersOf(frame)))
  const x = map.widthMm / art.width
  const y = map.heightMm / art.height
  return assigned.flatMap(({ role, target }): readonly CheckFinding[] => {
    const layer = art.layers.find(one => target.kind === 'layer' && one.id === target.id)
    if (role !== 'codingArea' || layer === undefined || layer.kind === 'group' || !layer.visible) return []
    const { left, top, right, bottom } = layer.box
    if (right <= left || bottom <= top) return []
    const area = {
      leftMm: left * x,
      rightMm: right * x,
      topMm: map.heightMm - top * y,
      bottomMm: map.heightMm - bottom * y,
    }
    const holds = boxes.some(
      box =>
        box.leftMm < area.rightMm &&
        box.rightMm > area.leftMm &&
        box.bottomMm < area.topMm &&
        box.topMm > area.bottomMm,
    )
    if (holds) return []
    const cut = left <= 0 || top <= 0 || right >= art.width || bottom >= art.height
    return [
      {
        check: 'codes',
        key: `codes/area/${layer.id}`,
        severity: cut ? 'error' : 'note',
        code: cut ? 'code-cut' : 'code-area-empty',
        where: `layer "${layer.name}"`,
        message: cut
          ? 'no code can be read here, and the area is cut by the edge of the art'
          : 'no code can be read in this area, which is kept for one',
        fix: cut
          ? 'Move the code with its light margins inside the panel.'
          : 'Nothing, if the code is printed later; else look whether it is whole and in a printed layer.',
        box: area,
        held: null,
        measured: null,
        limit: null,
        remedy: null,
      },
    ]
  })
}
