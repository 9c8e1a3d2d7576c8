import type { BoxMm, CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { markedBox } from '../marked.ts'
import { pixelBox } from '../spot-area.ts'
import type { SearchedPrint } from './find.ts'
import { boxAround, cornersOf, overlaps } from './place.ts'
import { estimate, type Told } from './told.ts'

type Read = Pick<CheckInput, 'art' | 'assigned' | 'map' | 'marked'>

/** Areas kept for a code, by a layer or by a mark, in which no code can be read, and bars that the edge has cut. */
export function unreadAreas(input: Read, { codes, cut }: SearchedPrint): readonly CheckFinding[] {
  const boxes = codes.map(({ frame }) => boxAround(cornersOf(frame)))
  const empty = (area: BoxMm) => !boxes.some(box => overlaps(box, area))
  const [kept, marked] = [keptAreas(input), markedAreas(input)].map(areas =>
    areas.filter(({ box }) => empty(box)),
  )
  const told = [...kept!, ...marked!]
  return [
    ...kept!.map(ofKept),
    ...marked!.map(ofMarked),
    ...cut.filter(box => !told.some(area => overlaps(box, area.box))).map(ofCut),
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

const ofCut = (box: BoxMm): ToldArea => ({
  key: `codes/cut/${[box.leftMm + box.rightMm, box.bottomMm + box.topMm].map(sum => 5 * Math.round(sum / 10)).join(' ')}`,
  where: 'print',
  box,
  told: {
    severity: 'warning',
    code: 'code-cut',
    message: 'bars like those of a code run over the edge of the art, and no code can be read in them',
    fix: inside,
  },
})

const inside = 'Move the code with its light margins inside the panel.'
