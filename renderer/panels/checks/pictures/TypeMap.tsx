import type { TypeResult } from '../../../../core/checks/legibility/result.ts'

interface Props {
  readonly widthMm: number
  readonly heightMm: number
  readonly objects: readonly TypeResult[]
  /** Key of the one that is outlined. */
  readonly chosen: string | null
}

/** The panel with every piece of type, the fuller the more of the views it cannot be read in; numbers as in the list. */
export function TypeMap({ widthMm, heightMm, objects, chosen }: Props) {
  const size = 0.04 * Math.max(widthMm, heightMm)
  return (
    <figure className="type-map">
      <svg
        viewBox={`${-size} ${-0.2 * size} ${widthMm + 1.2 * size} ${heightMm + 0.4 * size}`}
        role="img"
        aria-label="Where type cannot be read; the list says the same"
      >
        <rect className="panel" width={widthMm} height={heightMm} />
        {objects.map(({ key, box, heat }, i) => (
          <g key={key}>
            <rect
              className={key === chosen ? 'type chosen' : 'type'}
              x={box.leftMm}
              y={heightMm - box.topMm}
              width={Math.max(0, box.rightMm - box.leftMm)}
              height={Math.max(0, box.topMm - box.bottomMm)}
              fillOpacity={heat ?? 0}
            />
            <text x={box.leftMm - 0.25 * size} y={heightMm - (box.topMm + box.bottomMm) / 2} fontSize={size}>
              {i + 1}
            </text>
          </g>
        ))}
      </svg>
      <figcaption>
        <span className="heat-key" aria-hidden="true" />
        <span>read in every view</span>
        <span>in none</span>
      </figcaption>
    </figure>
  )
}
