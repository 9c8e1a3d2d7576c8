import { memo } from 'react'
import { linePath, ringsPath } from '../../../core/base/path-data.ts'
import type { Blank } from '../../../core/carton/blank.ts'
import type { LineKind, Outline } from '../../../core/carton/die.ts'
import { boxOf } from '../../../core/carton/outline.ts'

const kinds: readonly { readonly kind: LineKind; readonly says: string }[] = [
  { kind: 'cut', says: 'cut' },
  { kind: 'crease', says: 'crease' },
  { kind: 'reverse-crease', says: 'reverse crease' },
  { kind: 'perforation', says: 'perforation' },
  { kind: 'tear', says: 'tear line' },
  { kind: 'cut-crease', says: 'cut-crease' },
]

/**
 * The unfolded blank as a die maker draws it, with the names of its panels; told apart by dashes, not by colour.
 * Folding leaves it as it is: it is drawn anew with another blank only.
 */
export const DieDrawing = memo(function DieDrawing({ blank }: { readonly blank: Blank }) {
  const { widthMm, heightMm, die } = blank
  const margin = 0.03 * Math.max(widthMm, heightMm)
  const present = kinds.filter(({ kind }) => die.lines.some(line => line.kind === kind))
  return (
    <figure className="die">
      <svg
        viewBox={`${-margin} ${-margin} ${widthMm + 2 * margin} ${heightMm + 2 * margin}`}
        role="img"
        aria-label={`The blank, ${widthMm.toFixed(1)} by ${heightMm.toFixed(1)} mm: ${blank.panels.map(({ name }) => name).join(', ')}`}
      >
        <g transform={`matrix(1 0 0 -1 0 ${heightMm})`}>
          {blank.panels.map(({ name, outline, windows = [] }) => (
            <path key={name} className="die-board" d={ringsPath([outline, ...windows])} />
          ))}
          {die.glue.map(outline => (
            <path key={ringsPath([outline])} className="die-glue" d={ringsPath([outline])} />
          ))}
          {die.lines.map(({ kind, points }) => (
            <path key={`${kind} ${linePath(points)}`} className={`die-${kind}`} d={linePath(points)} />
          ))}
        </g>
        {blank.panels.map(({ name, outline }) => {
          const label = labelOf(name, outline, blank)
          return label === null ? null : (
            <text
              key={name}
              transform={`translate(${label.x} ${label.y})${label.upright ? ' rotate(-90)' : ''}`}
              dy="0.35em"
              fontSize={label.size}
            >
              {name}
            </text>
          )
        })}
      </svg>
      <figcaption className="quiet">
        <span>
          {widthMm.toFixed(1)} × {heightMm.toFixed(1)} mm
        </span>
        {present.map(({ kind, says }) => (
          <span key={kind} className="die-key">
            <svg viewBox="0 0 24 4" aria-hidden="true">
              <path className={`die-${kind}`} d="M0 2H24" />
            </svg>
            {says}
          </span>
        ))}
        {die.glue.length === 0 ? null : (
          <span className="die-key">
            <svg viewBox="0 0 24 4" aria-hidden="true">
              <path className="die-glue" d="M0 0H24V4H0Z" />
            </svg>
            glue
          </span>
        )}
      </figcaption>
    </figure>
  )
})

/** The name in the middle of its panel, along its longer way, as large as it fits; null where it would be too small to read. */
function labelOf(name: string, outline: Outline, { widthMm, heightMm }: Blank) {
  // The drawing is as wide as its card, or as high: its larger side says how large a millimetre is on the screen.
  const full = Math.max(widthMm, heightMm)
  const [left, bottom, right, top] = boxOf(outline)
  const sizeIn = (along: number, across: number) =>
    Math.min(0.04 * full, (1.6 * along) / name.length, 0.8 * across)
  const level = sizeIn(right - left, top - bottom)
  const upright = sizeIn(top - bottom, right - left)
  const size = Math.max(level, upright)
  if (size < 0.03 * full) return null
  return { x: (left + right) / 2, y: heightMm - (bottom + top) / 2, size, upright: upright > 1.2 * level }
}
