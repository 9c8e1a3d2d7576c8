import { useId } from 'react'

interface Props<T extends string> {
  readonly label: string
  readonly value: T
  readonly options: readonly { readonly value: T; readonly title: string; readonly says?: string }[]
  readonly onChange: (value: T) => void
}

/** One of a few, all in sight. */
export function Choice<T extends string>({ label, value, options, onChange }: Props<T>) {
  const name = useId()
  return (
    <fieldset className="choice">
      <legend>{label}</legend>
      <div>
        {options.map(option => (
          <label key={option.value} title={option.says}>
            <input
              type="radio"
              name={name}
              checked={option.value === value}
              onChange={() => onChange(option.value)}
            />
            <span>{option.title}</span>
          </label>
        ))}
      </div>
    </fieldset>
  )
}

interface PickProps<T extends string> extends Props<T> {
  readonly hideLabel?: boolean
}

/** One of many, out of sight until asked for. */
export function Pick<T extends string>({ label, value, options, hideLabel, onChange }: PickProps<T>) {
  const id = useId()
  return (
    <div className="pick">
      <label htmlFor={id} className={hideLabel ? 'unseen' : undefined}>
        {label}
      </label>
      <select id={id} value={value} onChange={event => onChange(event.target.value as T)}>
        {options.map(option => (
          <option key={option.value} value={option.value}>
            {option.title}
          </option>
        ))}
      </select>
    </div>
  )
}
