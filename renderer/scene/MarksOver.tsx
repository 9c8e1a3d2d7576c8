import { ringsPath } from '../../core/base/path-data.ts'
import type { MarkedArea } from '../../core/checks/marked.ts'
import { type Look, pixelOver } from '../stage/place.ts'
import { aroundBox } from './zoom-on.ts'

interface Props {
  readonly look: Look
  readonly marked: readonly MarkedArea[]
  /** Each has its name beside it. */
  readonly named: boolean
}

/** Over the picture: areas that are marked for the checks. */
export function MarksOver({ look, marked, named }: Props) {
  return (
    <svg className="draw-over marks-over" width={look.width} height={look.height} aria-hidden="true">
      {marked.map(({ name, shape }) => {
        const rings = (shape.kind === 'box' ? [aroundBox(shape.box, steps)] : shape.rings).map(ring =>
          ring.map(([x, y]) => pixelOver(look, x, y)).filter(pixel => pixel !== null),
        )
        const [first] = rings.flat()
        if (first === undefined) return null
        const path = ringsPath(rings.filter(ring => ring.length > 1))
        return (
          <g key={name}>
            <path className="draw-under" d={path} />
            <path className="draw-line" d={path} />
            {named ? (
              <text className="draw-hint" x={first[0] + 4} y={first[1] - 6}>
                {name}
              </text>
            ) : null}
          </g>
        )
      })}
    </svg>
  )
}

/** Points along a side. */
const steps = 8
