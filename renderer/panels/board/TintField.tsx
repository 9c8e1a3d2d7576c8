import type { Lab } from '../../../core/color/lab.ts'
import { clearMirror, tintChoices } from '../../../core/optics/tint.ts'
import type { BoardSpec } from '../../../core/reference/scene.ts'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly tint: BoardSpec['tint']
  readonly coatIndex: number
  readonly onChange: (tint: BoardSpec['tint']) => void
  readonly onSettle: () => void
}

const axes = [
  { label: 'L*', min: 5, max: 100 },
  { label: 'a*', min: -100, max: 100 },
  { label: 'b*', min: -100, max: 100 },
] as const

/** Colour of the metal: clear, or a lacquer by what the flat metal looks like in its mirror direction. */
export function TintField({ tint, coatIndex, onChange, onSettle }: Props) {
  const proposed = tintChoices.some(one => one.name === tint?.name && sameLab(one.lab, tint.lab))
  return (
    <fieldset className="tint">
      <legend>Colour of the metal</legend>
      <div className="swatches">
        <Swatch name="Clear" lab={clearMirror(coatIndex)} on={tint === null} onPick={() => onChange(null)} />
        {tintChoices.map(one => (
          <Swatch
            key={one.name}
            name={one.name}
            lab={one.lab}
            on={tint?.name === one.name}
            onPick={() => onChange(one)}
          />
        ))}
      </div>
      {tint === null ? null : (
        <>
          <div className="fields three">
            {axes.map(({ label, min, max }, i) => (
              <NumberField
                key={label}
                label={label}
                value={tint.lab[i]!}
                min={min}
                max={max}
                step={1}
                digits={1}
                assumed={proposed}
                onChange={value => onChange({ name: 'Own', lab: labWith(tint.lab, i, value) })}
                onSettle={onSettle}
              />
            ))}
          </div>
          <p className="quiet">
            L*a*b* (D50) of the flat metal in its mirror direction, against a perfect mirror. {tint.name}{' '}
            {proposed ? 'is a proposal: read your own board.' : 'is what you entered.'}
          </p>
        </>
      )}
    </fieldset>
  )
}

function Swatch(props: {
  readonly name: string
  readonly lab: Lab
  readonly on: boolean
  readonly onPick: () => void
}) {
  const [L, a, b] = props.lab
  return (
    <button
      type="button"
      className="swatch"
      aria-pressed={props.on}
      title={props.name}
      onClick={props.onPick}
    >
      <span style={{ background: `lab(${L} ${a} ${b})` }} aria-hidden="true" />
      {props.name}
    </button>
  )
}

const sameLab = (x: Lab, y: Lab): boolean => x.every((value, i) => value === y[i])

function labWith(lab: Lab, at: number, value: number): Lab {
  const [L, a, b] = lab.map((old, i) => (i === at ? value : old))
  return [L ?? 0, a ?? 0, b ?? 0]
}
