import { shown } from '../NumberField.tsx'
import type { SpotReading } from './reading.ts'

/** A coat in the drawing: from the eye down. */
interface Coat {
  readonly kind: 'varnish' | 'ink' | 'white' | 'relief' | 'metal' | 'board'
  readonly says: string
  /** Part of the area that it covers, 0..1. */
  readonly part: number
}

const width = 88
const full = 280
const heights: Readonly<Record<Coat['kind'], number>> = {
  varnish: 15,
  ink: 15,
  white: 15,
  relief: 15,
  metal: 15,
  board: 18,
}
const waves = 8

/** A cut through the spot, the eye's side up; each coat is as wide as the part that it covers, nothing else is to scale. */
export function StackDrawing({ reading }: { readonly reading: SpotReading }) {
  let y = 2
  const drawn = coatsOf(reading).map(coat => {
    const top = y
    y += heights[coat.kind]
    return { ...coat, top, height: heights[coat.kind] }
  })
  return (
    <svg
      className="cut"
      viewBox={`0 0 ${full} ${y + 2}`}
      role="img"
      aria-label={`From the eye down: ${drawn.map(coat => coat.says).join('; ')}`}
    >
      {drawn.map(({ kind, says, part, top, height }, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: a coat is its place in the cut
        <g key={i}>
          <rect className="bare" x={0} y={top} width={width} height={height} />
          {kind === 'relief' ? (
            <path className="relief" d={relief(top, height, part)} />
          ) : (
            <rect className={kind} x={0} y={top} width={width * part} height={height} />
          )}
          <text x={width + 8} y={top + height / 2 + 3.6}>
            {says}
          </text>
        </g>
      ))}
    </svg>
  )
}

function coatsOf({ varnish, cmyk, spots, whites, gratings, metal }: SpotReading): readonly Coat[] {
  const inks = (['C', 'M', 'Y', 'K'] as const)
    .map((ink, i) => ({ ink, part: cmyk[i] ?? 0 }))
    .filter(({ part }) => part > 0.004)
  const [most] = [...gratings].sort((a, b) => b.share - a.share)
  const more = gratings.length > 1 ? ` and ${gratings.length - 1} more` : ''
  return [
    ...(varnish > 0.004 ? [coat('varnish', `varnish ${percent(varnish)}`, varnish)] : []),
    ...spots.map(spot => coat('ink', `${spot.name} ${percent(spot.coverage)}`, spot.coverage)),
    ...(inks.length === 0
      ? []
      : [
          coat(
            'ink',
            inks.map(({ ink, part }) => `${ink} ${shown(100 * part, 0)}`).join('  '),
            1 - inks.reduce((bare, { part }) => bare * (1 - part), 1),
          ),
        ]),
    ...whites.map(white =>
      coat('white', `white ${percent(white.coverage)} of ${percent(white.opacity)} opacity`, white.coverage),
    ),
    ...(most === undefined
      ? []
      : [
          coat(
            'relief',
            `${shown(most.pitchNm, 0)} nm, ${shown(most.grooveDepthNm, 0)} deep, ${shown(most.azimuthDeg, 0)}°${more}`,
            gratings.reduce((sum, one) => sum + one.share, 0),
          ),
        ]),
    ...(metal > 0.004 ? [coat('metal', `metal ${percent(metal)}`, metal)] : []),
    coat('board', 'board', 1),
  ]
}

const coat = (kind: Coat['kind'], says: string, part: number): Coat => ({
  kind,
  says,
  part: Math.min(1, part),
})

const percent = (part: number): string => `${shown(part * 100, 0)} %`

/** Grooves in the lacquer, as far as they cover; flat beyond. */
function relief(top: number, height: number, part: number): string {
  const step = width / waves
  const [high, low] = [top + 3, top + height]
  const count = Math.max(1, Math.round(waves * part))
  const arches = Array.from(
    { length: count },
    () => `q${step / 4} 10 ${step / 2} 0q${step / 4} -6 ${step / 2} 0`,
  )
  return `M0 ${high}${arches.join('')}L${width} ${high}L${width} ${low}L0 ${low}Z`
}
