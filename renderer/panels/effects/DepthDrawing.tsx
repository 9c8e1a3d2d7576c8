interface Props {
  /** mm in front of the carton (behind: below 0), in the order of the list. */
  readonly depths: readonly number[]
}

const [width, height] = [280, 84]
const board = width * 0.5
const [top, foot] = [12, height - 20]

/** The carton from its side, with the planes where they seem to stand and the eye that sees them. */
export function DepthDrawing({ depths }: Props) {
  const furthest = Math.max(5, ...depths.map(Math.abs))
  const step = niceStep(furthest)
  const reach = width * 0.5 - 58
  const x = (mm: number) => board + (mm / furthest) * reach
  const ticks = Array.from(
    { length: 2 * Math.floor(furthest / step) + 1 },
    (_, i) => (i - Math.floor(furthest / step)) * step,
  )
  return (
    <svg
      className="depth-drawing"
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-label={`Side view: ${depths.map((mm, i) => `plane ${i + 1} ${placeWords(mm)}`).join(', ')}`}
    >
      <line className="axis" x1={x(-furthest)} x2={x(furthest)} y1={foot} y2={foot} />
      {ticks.map(mm => (
        <g key={mm}>
          <line className="axis" x1={x(mm)} x2={x(mm)} y1={foot} y2={foot + 3} />
          <text className="tick" x={x(mm)} y={height - 5}>
            {mm === 0 ? 'carton' : mm}
          </text>
        </g>
      ))}
      <rect className="board" x={board - 2} y={top - 6} width={4} height={foot - top + 6} />
      {depths.map((mm, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a plane is its place in the list
        <g key={i}>
          <line className="plane" x1={x(mm)} x2={x(mm)} y1={top + 8} y2={foot - 4} />
          <circle className="plane-mark" cx={x(mm)} cy={top + 2 + (i % 3) * 17} r={8} />
          <text className="plane-name" x={x(mm)} y={top + 5.5 + (i % 3) * 17}>
            {i + 1}
          </text>
        </g>
      ))}
      <g className="eye" transform={`translate(${width - 18} ${(top + foot) / 2})`}>
        <path d="M -11 0 Q 0 -9 11 0 Q 0 9 -11 0 Z" />
        <circle r={3} />
      </g>
      <text className="tick" x={22} y={(top + foot) / 2 + 3}>
        behind
      </text>
    </svg>
  )
}

export const placeWords = (mm: number): string =>
  mm === 0 ? 'on the carton' : `${Math.abs(mm)} mm ${mm > 0 ? 'in front' : 'behind'}`

/** 1, 2 or 5 times a power of ten, at most three to a side. */
function niceStep(most: number): number {
  const raw = most / 2
  const ten = 10 ** Math.floor(Math.log10(raw))
  return ([1, 2, 5].find(one => one * ten >= raw) ?? 10) * ten
}
