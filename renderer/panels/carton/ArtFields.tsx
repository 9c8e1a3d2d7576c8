import type { Blank } from '../../../core/carton/blank.ts'
import type { ArtPlace, JobCarton } from '../../../core/job/carton.ts'
import { Pick } from '../Choice.tsx'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly carton: JobCarton
  readonly blank: Blank
  readonly onArts: (arts: JobCarton['arts']) => void
  readonly onSettle: () => void
}

const overAll = 'the whole blank'

/** Where the art lies on the blank: on one panel or several, or over all of it, with its bleed. */
export function ArtFields({ carton, blank, onArts, onSettle }: Props) {
  const { arts } = carton
  const put = (at: number, change: Partial<ArtPlace>) =>
    onArts(arts.map((art, i) => (i === at ? { ...art, ...change } : art)))
  const options = [overAll, ...blank.panels.map(({ name }) => name)].map(name => ({
    value: name,
    title: name,
  }))
  const next = blank.panels.find(({ name }) => !arts.some(({ panel }) => panel === name))
  return (
    <fieldset className="arts">
      <legend>The art lies on</legend>
      {arts.map((art, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: places have no other name than their order
        <div key={i} className="art-place">
          <Pick
            label="Panel"
            hideLabel
            value={art.panel ?? overAll}
            options={options}
            onChange={name => put(i, { panel: name === overAll ? null : name })}
          />
          <button
            type="button"
            className="plain small"
            aria-label={`Take the art off ${art.panel ?? overAll}`}
            onClick={() => onArts(arts.filter((_, at) => at !== i))}
          >
            ✕
          </button>
          <NumberField
            label="Right by"
            says="Lower left corner of the art from that of the panel; below 0 the art bleeds over it"
            unit="mm"
            value={art.xMm}
            min={-3000}
            max={3000}
            step={1}
            digits={Number.isInteger(art.xMm) ? 0 : 1}
            onChange={xMm => put(i, { xMm })}
            onSettle={onSettle}
          />
          <NumberField
            label="Up by"
            says="Lower left corner of the art from that of the panel; below 0 the art bleeds over it"
            unit="mm"
            value={art.yMm}
            min={-3000}
            max={3000}
            step={1}
            digits={Number.isInteger(art.yMm) ? 0 : 1}
            onChange={yMm => put(i, { yMm })}
            onSettle={onSettle}
          />
        </div>
      ))}
      {arts.length === 0 ? <p className="quiet">Nowhere: the carton is bare metallised board.</p> : null}
      <p className="actions">
        <button
          type="button"
          className="plain small"
          disabled={next === undefined || arts.length >= 20}
          onClick={() => onArts([...arts, { panel: next?.name ?? null, xMm: 0, yMm: 0 }])}
        >
          On one more panel
        </button>
      </p>
    </fieldset>
  )
}
