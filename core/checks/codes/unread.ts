import type { BoxMm, CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { markedBox } from '../marked.ts'
import { pixelBox } from '../spot-area.ts'
import type { FoundCode } from './find.ts'
import { boxAround, cornersOf } from './place.ts'
import { estimate, type Told } from './told.ts'

type Read = Pick<CheckInput, 'art' | 'assigned' | 'map' | 'marked'>

/** Areas kept for a code, by a layer or by a mark, in which no code can be read. */
export function unreadAreas(input: Read, codes: readonly FoundCode[]): readonly CheckFinding[] {
  const boxes = codes.map(({ frame }) => boxAround(cornersOf(frame)))
  const empty = (area: BoxMm) => !boxes.some(box => overlaps(box, area))
  return [
    ...keptAreas(input)
      .filter(({ box }) => empty(box))
      .map(ofKept),
    ...markedAreas(input)
      .filter(({ box }) => empty(box))
      .map(ofMarked),
  ].map(({ key, where, box, told }) => ({
    check: 'codes',
    key,
    where,
    box,
    held: null,
    measured: null,
    limit: null,
    remedy: null,
    ...told,
    message: `${told.message}. ${estimate}`,
  }))
}

interface Area {
  readonly key: string
  readonly where: string
  readonly box: BoxMm
  /** It reaches to the edge of the art or beyond. */
  readonly cut: boolean
}

/** Layers whose role it is to keep a place for a code. */
function keptAreas({ art, assigned, map }: Read): readonly Area[] {
  return assigned.flatMap(({ role, target }): readonly Area[] => {
    const layer = art.layers.find(one => target.kind === 'layer' && one.id === target.id)
    if (role !== 'codingArea' || layer === undefined || layer.kind === 'group' || !layer.visible) return []
    const { left, top, right, bottom } = layer.box
    if (right <= left || bottom <= top) return []
    const size = { width: art.width, height: art.height, widthMm: map.widthMm, heightMm: map.heightMm }
    const cut = left <= 0 || top <= 0 || right >= art.width || bottom >= art.height
    return [
      { key: `codes/area/${layer.id}`, where: `layer "${layer.name}"`, box: pixelBox(size, layer.box), cut },
    ]
  })
}

function markedAreas({ map, marked = [] }: Read): readonly Area[] {
  return marked.flatMap((area): readonly Area[] => {
    const box = area.kind === 'code' ? markedBox(area) : null
    if (box === null) return []
    const cut = box.leftMm < 0 || box.bottomMm < 0 || box.rightMm > map.widthMm || box.topMm > map.heightMm
    return [{ key: `codes/marked/${area.name}`, where: `marked code "${area.name}"`, box, cut }]
  })
}

interface ToldArea extends Omit<Area, 'cut'> {
  readonly told: Told
}

const ofKept = ({ cut, ...area }: Area): ToldArea => ({
  ...area,
  told: cut
    ? {
        severity: 'error',
        code: 'code-cut',
        message: 'no code can be read here, and the area is cut by the edge of the art',
        fix: inside,
      }
    : {
        severity: 'note',
        code: 'code-area-empty',
        message: 'no code can be read in this area, which is kept for one',
        fix: 'Nothing, if the code is printed later; else look whether it is whole and in a printed layer.',
      },
})

const ofMarked = ({ cut, ...area }: Area): ToldArea => ({
  ...area,
  told: cut
    ? {
        severity: 'error',
        code: 'code-cut',
        message: 'no code can be read here, and the marked area reaches beyond the art',
        fix: inside,
      }
    : {
        severity: 'error',
        code: 'code-unread',
        message:
          'no code can be read where one is marked, not even on plain white: EAN, UPC, ITF, Code 128, Data Matrix and QR are looked for',
        fix: 'Look whether it is whole, in a printed layer, dark on light and fine enough; of another kind, have it verified.',
      },
})

const inside = 'Move the code with its light margins inside the panel.'

const overlaps = (a: BoxMm, b: BoxMm): boolean =>
  a.leftMm < b.rightMm && a.rightMm > b.leftMm && a.bottomMm < b.topMm && a.topMm > b.bottomMm
