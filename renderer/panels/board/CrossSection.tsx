import type { BuildKind, BuildLayer } from '../../../core/job/board-build.ts'

const names: Readonly<Record<BuildLayer, string>> = {
  film: 'film',
  lacquer: 'lacquer',
  metal: 'metal, with the relief',
  glue: 'adhesive',
  board: 'board',
}
const heights: Readonly<Record<BuildLayer, number>> = {
  film: 15,
  lacquer: 15,
  metal: 15,
  glue: 15,
  board: 20,
}

const width = 96
const waves = 6

/** A cut through the board, the eye's side up; nothing is to scale. */
export function CrossSection({ kind }: { readonly kind: BuildKind }) {
  let y = 16
  const drawn = kind.layers.map(layer => {
    const top = y
    y += heights[layer]
    return { layer, top, height: heights[layer] }
  })
  return (
    <svg
      className="cross-section"
      viewBox={`0 0 240 ${y + 2}`}
      role="img"
      aria-label={`From the eye down: ${kind.layers.map(layer => names[layer]).join(', ')}`}
    >
      <path className="eye" d="M40 7q8 -7 16 0q-8 7 -16 0z" />
      <circle className="pupil" cx={48} cy={7} r={2.2} />
      {drawn.map(({ layer, top, height }) => (
        <g key={layer}>
          <rect className={layer} x={0} y={top} width={width} height={height} />
          <text x={width + 10} y={top + height / 2 + 3.6}>
            {names[layer]}
          </text>
        </g>
      ))}
      {drawn
        .filter(({ layer }) => layer === 'metal')
        .map(({ top, height }) => (
          <path key="relief" className="relief" d={relief(top, height)} />
        ))}
    </svg>
  )
}

/** The metal follows the relief, so its upper edge is drawn as a wave over what lies above. */
function relief(top: number, height: number): string {
  const step = width / waves
  const arch = Array.from(
    { length: waves },
    () => `q${step / 4} -7 ${step / 2} 0q${step / 4} 7 ${step / 2} 0`,
  )
  return `M0 ${top + 2}${arch.join('')}L${width} ${top + height}L0 ${top + height}Z`
}
