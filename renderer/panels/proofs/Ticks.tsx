interface Props<T extends string> {
  readonly label: string
  readonly options: readonly { readonly value: T; readonly title: string }[]
  readonly chosen: readonly T[]
  readonly onChange: (chosen: readonly T[]) => void
}

/** Any of a few, all in sight. */
export function Ticks<T extends string>({ label, options, chosen, onChange }: Props<T>) {
  return (
    <fieldset className="choice ticks">
      <legend>{label}</legend>
      <div>
        {options.map(({ value, title }) => (
          <label key={value} className="tick">
            <input
              type="checkbox"
              checked={chosen.includes(value)}
              onChange={event =>
                onChange(event.target.checked ? [...chosen, value] : chosen.filter(one => one !== value))
              }
            />
            {title}
          </label>
        ))}
      </div>
    </fieldset>
  )
}
