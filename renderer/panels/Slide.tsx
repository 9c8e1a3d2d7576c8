import { useId } from 'react'

interface Props {
  readonly label: string
  readonly value: number
  readonly min: number
  readonly max: number
  readonly step: number
  /** The value in words, beside the label. */
  readonly says: string
  readonly onChange: (value: number) => void
  readonly onSettle?: () => void
}

/** A number that is found by looking: a slider with its value in words. */
export function Slide({ label, value, min, max, step, says, onChange, onSettle }: Props) {
  const id = useId()
  return (
    <div className="slide">
      <label htmlFor={id}>{label}</label>
      <output htmlFor={id}>{says}</output>
      <input
        id={id}
        type="range"
        min={min}
        max={max}
        step={step}
        value={value}
        aria-valuetext={says}
        style={{ '--part': `${(100 * (value - min)) / (max - min)}%` } as React.CSSProperties}
        onChange={event => onChange(Number(event.target.value))}
        onPointerUp={onSettle}
        onBlur={onSettle}
      />
    </div>
  )
}
