import { useId, useState } from 'react'
import { BadInput } from '../../core/base/finding.ts'
import type { Lab } from '../../core/color/lab.ts'
import type { MeasuredSpectrum } from '../../core/optics/ink.ts'
import { parseInkSpectrum } from '../../core/optics/ink-spectrum.ts'
import { NumberField } from './NumberField.tsx'

interface Props {
  readonly name: string
  /** In use now: measured, or the file's own; null where nothing is known. */
  readonly lab: Lab | null
  readonly spectrum: MeasuredSpectrum | null
  /** The job has an entry. */
  readonly measured: boolean
  readonly onChange: (lab: Lab | null, spectrum: MeasuredSpectrum | null) => void
  /** Back to what the file says. */
  readonly onRule: () => void
  readonly onSettle: () => void
}

const axes = [
  { label: 'L*', min: 0, max: 100 },
  { label: 'a*', min: -128, max: 128 },
  { label: 'b*', min: -128, max: 128 },
] as const

/** A spot ink by its solid on white board: L*a*b*, or the spectrum, which goes before it. */
export function SpotFields({ name, lab, spectrum, measured, onChange, onRule, onSettle }: Props) {
  const id = useId()
  const [draft, setDraft] = useState(spectrum === null ? '' : textOf(spectrum))
  const read = spectrumIn(draft, name)
  const known: Lab = lab ?? [50, 0, 0]
  return (
    <div className="spot-ink">
      <div className="fields three">
        {axes.map(({ label, min, max }, i) => (
          <NumberField
            key={label}
            label={label}
            value={known[i]!}
            min={min}
            max={max}
            step={1}
            digits={1}
            assumed={lab === null && spectrum === null}
            onChange={value => onChange(labWith(known, i, value), spectrum)}
            onSettle={onSettle}
          />
        ))}
      </div>
      <div className="number profile">
        <label htmlFor={id}>Reflectance of the solid on white board</label>
        <span className="well">
          <textarea
            id={id}
            rows={3}
            spellCheck={false}
            placeholder="400 0.05&#10;410 0.06&#10;…"
            value={draft}
            aria-invalid={read.problem !== null}
            aria-describedby={`${id}-note`}
            onChange={event => change(event.currentTarget.value)}
          />
        </span>
        <p id={`${id}-note`} className={read.problem === null ? 'note' : 'note wrong'}>
          {read.problem ??
            (read.spectrum === null
              ? 'A wavelength in nm and a value 0 to 1 on each line, 400 to 700 nm at least. It goes before L*a*b*.'
              : `${read.spectrum.values.length} values from ${read.spectrum.startNm} nm; L*a*b* does not count.`)}
        </p>
      </div>
      {measured ? (
        <button type="button" className="plain small" onClick={onRule}>
          Back to what the file says
        </button>
      ) : null}
    </div>
  )

  function change(text: string): void {
    setDraft(text)
    const next = spectrumIn(text, name)
    if (next.problem === null) onChange(measured ? lab : null, next.spectrum)
  }
}

function spectrumIn(
  text: string,
  name: string,
): { readonly spectrum: MeasuredSpectrum | null; readonly problem: string | null } {
  if (text.trim() === '') return { spectrum: null, problem: null }
  try {
    return { spectrum: parseInkSpectrum(text, name), problem: null }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return { spectrum: null, problem: `${error.where}: ${error.problem}. ${error.fix}` }
  }
}

const textOf = ({ startNm, stepNm, values }: MeasuredSpectrum): string =>
  values.map((value, i) => `${Number((startNm + i * stepNm).toFixed(3))} ${value}`).join('\n')

function labWith(lab: Lab, at: number, value: number): Lab {
  const [L, a, b] = lab.map((old, i) => (i === at ? value : old))
  return [L ?? 0, a ?? 0, b ?? 0]
}
