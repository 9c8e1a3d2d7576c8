import { useState } from 'react'
import { mostVariants, type Variant } from '../../core/job/job.ts'
import { baseName } from '../../core/job/variants.ts'

interface Props {
  readonly variants: readonly Variant[]
  /** Index of the shown one; null = the base. */
  readonly variant: number | null
  readonly comparing: boolean
  readonly onChoose: (variant: number | null) => void
  readonly onAdd: () => void
  readonly onName: (variant: number, name: string) => void
  readonly onRemove: (variant: number) => void
  readonly onCompare: () => void
}

/** The designs of a job: which one is shown and edited, and all of them side by side. */
export function DesignBar(props: Props) {
  const { variants, variant, comparing } = props
  const [naming, setNaming] = useState<string | null>(null)
  const shown = variant === null ? undefined : variants[variant]
  return (
    <section className={variants.length === 0 ? 'designs none' : 'designs'} aria-label="Designs of this job">
      {variants.length === 0 ? null : (
        <>
          {[null, ...variants.keys()].map(index => (
            <button
              key={index ?? 'base'}
              type="button"
              className="plain small"
              aria-pressed={variant === index}
              title={
                index === null
                  ? 'What every design begins from'
                  : 'Effects, white, board and print changed here stay with this design'
              }
              onClick={() => props.onChoose(index)}
            >
              {index === null ? baseName : variants[index]?.name}
            </button>
          ))}
          <span className="gap" aria-hidden="true" />
          <button
            type="button"
            className="plain small"
            aria-pressed={comparing}
            title="All designs under the same light (C)"
            onClick={props.onCompare}
          >
            Side by side
          </button>
        </>
      )}
      {variants.length >= mostVariants ? null : (
        <button
          type="button"
          className="plain small"
          title="Another design of this job: it begins as this one is"
          onClick={props.onAdd}
        >
          {variants.length === 0 ? 'Try another design' : 'Another'}
        </button>
      )}
      {shown === undefined || variant === null ? null : naming === null ? (
        <>
          <button type="button" className="plain small" onClick={() => setNaming(shown.name)}>
            Rename
          </button>
          <button type="button" className="plain small" onClick={() => props.onRemove(variant)}>
            Take away
          </button>
        </>
      ) : (
        <form
          onSubmit={event => {
            event.preventDefault()
            const name = naming.trim()
            if (name !== '') props.onName(variant, name)
            setNaming(null)
          }}
        >
          <span className="well">
            <input
              // biome-ignore lint/a11y/noAutofocus: the name was asked to be typed
              autoFocus
              aria-label="Name of the design"
              value={naming}
              maxLength={60}
              onChange={event => setNaming(event.target.value)}
              onBlur={event => event.currentTarget.form?.requestSubmit()}
            />
          </span>
        </form>
      )}
    </section>
  )
}
