import { NumberField } from './NumberField.tsx'

interface Props {
  readonly opacity: number
  readonly hits: number
  readonly assumed: boolean
  readonly onChange: (opacity: number, hits: number) => void
  /** Back to the assumption. */
  readonly onRule: () => void
  readonly onSettle: () => void
}

/** White is three numbers: coverage comes from the art, opacity and hits from the press. */
export function WhiteFields({ opacity, hits, assumed, onChange, onRule, onSettle }: Props) {
  return (
    <div className="white">
      <div className="fields three">
        <div className="number">
          <span className="label">Coverage</span>
          <div className="well still">from the art</div>
        </div>
        <NumberField
          label="Opacity"
          unit="%"
          value={opacity * 100}
          min={0}
          max={100}
          step={1}
          assumed={assumed}
          onChange={percent => onChange(percent / 100, hits)}
          onSettle={onSettle}
        />
        <NumberField
          label="Hits"
          value={hits}
          min={1}
          max={6}
          step={1}
          assumed={assumed}
          onChange={count => onChange(opacity, Math.round(count))}
          onSettle={onSettle}
        />
      </div>
      {assumed ? null : (
        <button type="button" className="plain small" onClick={onRule}>
          Back to the assumed numbers
        </button>
      )}
    </div>
  )
}
