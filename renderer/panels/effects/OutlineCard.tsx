import type { ReactNode } from 'react'
import { ringsPath } from '../../../core/base/path-data.ts'
import { fitted } from '../../../core/effects/draw.ts'
import { boundsOf, type Outline } from '../../../core/effects/outline.ts'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly outline: Outline
  readonly open: boolean
  readonly onOpen: () => void
  readonly onChange: (outline: Outline, gesture: string | null) => void
  readonly onRemove: () => void
  readonly onSettle: () => void
  /** How many designs the job has. */
  readonly designs: number
  /** Whether the shown design has it. */
  readonly here: boolean
  readonly onHere: (here: boolean) => void
  /** The card of its effect. */
  readonly children: ReactNode
}

/** An area that was drawn or imported: its name, its place, and its effect. */
export function OutlineCard({
  outline,
  open,
  onOpen,
  onChange,
  onRemove,
  onSettle,
  children,
  ...more
}: Props) {
  const { designs, here, onHere } = more
  const bounds = boundsOf(outline)
  return (
    <div className={open ? 'card open' : 'card'}>
      <button type="button" className="card-head outline-head" aria-expanded={open} onClick={onOpen}>
        <OutlineShape outline={outline} />
        <span className="outline-words">
          <strong title={outline.name}>{outline.name}</strong>
          {here ? null : <span className="quiet">{designs > 1 ? 'not in this design' : 'no effect'}</span>}
        </span>
      </button>
      {open ? (
        <div className="card-body">
          <label className="outline-name">
            Name
            <input
              type="text"
              key={outline.name}
              defaultValue={outline.name}
              onBlur={event => {
                const name = event.target.value.trim()
                if (name !== '' && name !== outline.name) onChange({ ...outline, name }, null)
              }}
              onKeyDown={event => {
                if (event.key === 'Enter') event.currentTarget.blur()
              }}
            />
          </label>
          {bounds === null ? (
            <p className="note">It has no points.</p>
          ) : (
            <div className="fields two">
              {place('Left edge', bounds.leftMm, leftMm => ({ leftMm }))}
              {place('Lower edge', bounds.bottomMm, bottomMm => ({ bottomMm }))}
              {place('Width', bounds.rightMm - bounds.leftMm, widthMm => ({ widthMm }), 0.1)}
              {place('Height', bounds.topMm - bounds.bottomMm, heightMm => ({ heightMm }), 0.1)}
            </div>
          )}
          {designs > 1 ? (
            <label className="tick" title="Its shape is kept for the designs that have it">
              <input type="checkbox" checked={here} onChange={event => onHere(event.target.checked)} />
              In this design
            </label>
          ) : here ? null : (
            <button type="button" className="plain small" onClick={() => onHere(true)}>
              Give it an effect
            </button>
          )}
          {children}
          <button type="button" className="plain small" onClick={onRemove}>
            {designs > 1 ? 'Delete it in all designs' : 'Delete this area'}
          </button>
        </div>
      ) : null}
    </div>
  )

  function place(
    label: string,
    value: number,
    change: (value: number) => Partial<Parameters<typeof fitted>[1]>,
    min = -5000,
  ) {
    if (bounds === null) return null
    const now = {
      leftMm: bounds.leftMm,
      bottomMm: bounds.bottomMm,
      widthMm: bounds.rightMm - bounds.leftMm,
      heightMm: bounds.topMm - bounds.bottomMm,
    }
    return (
      <NumberField
        label={label}
        value={value}
        unit="mm"
        min={min}
        max={5000}
        step={0.5}
        digits={1}
        onChange={next => onChange(fitted(outline, { ...now, ...change(next) }), `outline ${label}`)}
        onSettle={onSettle}
      />
    )
  }
}

/** Its form, small. */
function OutlineShape({ outline }: { readonly outline: Outline }) {
  const bounds = boundsOf(outline)
  if (bounds === null) return <span className="outline-shape" aria-hidden="true" />
  const { leftMm, bottomMm, rightMm, topMm } = bounds
  const side = Math.max(rightMm - leftMm, topMm - bottomMm, 0.001)
  const path = ringsPath(outline.rings.map(ring => ring.map(([x, y]) => [x - leftMm, topMm - y] as const)))
  return (
    <svg
      className="outline-shape"
      viewBox={`${(rightMm - leftMm - side) / 2 - 0.05 * side} ${(topMm - bottomMm - side) / 2 - 0.05 * side} ${1.1 * side} ${1.1 * side}`}
      aria-hidden="true"
    >
      <path d={path} fillRule="evenodd" />
    </svg>
  )
}
