import { wedgeFit, wedgeTolerance } from '../../core/optics/opacity.ts'
import { opacityOf, scatterOf } from '../../core/optics/white.ts'
import { NumberField, shown } from './NumberField.tsx'

type Patch = { readonly hits: number; readonly contrast: number }

interface Props {
  readonly patches: readonly Patch[]
  readonly onChange: (patches: readonly Patch[]) => void
  readonly onSettle: () => void
}

/** A step wedge of whites, patch by patch, and how well one strength a hit tells them all. */
export function WedgeTable({ patches, onChange, onSettle }: Props) {
  const fit = wedgeFit(patches)
  const put = (at: number, change: Partial<Patch>) =>
    onChange(patches.map((patch, i) => (i === at ? { ...patch, ...change } : patch)))
  const next = Math.min(9, Math.max(...patches.map(patch => patch.hits)) + 1)
  return (
    <div className="wedge">
      {fit.patches.map((patch, i) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: patches have no name but their place
        <div key={i} className="wedge-line">
          <NumberField
            label={`Patch ${i + 1}, hits`}
            value={patch.hits}
            min={1}
            max={9}
            step={1}
            onChange={hits => put(i, { hits: Math.round(hits) })}
            onSettle={onSettle}
          />
          <NumberField
            label="Contrast ratio"
            unit="%"
            value={patch.contrast * 100}
            min={0}
            max={100}
            step={1}
            digits={1}
            aside={offFit(patch.residual)}
            onChange={percent => put(i, { contrast: percent / 100 })}
            onSettle={onSettle}
          />
          <button
            type="button"
            className="plain small"
            disabled={patches.length === 1}
            aria-label={`Remove patch ${i + 1}`}
            onClick={() => onChange(patches.filter((_, other) => other !== i))}
          >
            Remove
          </button>
        </div>
      ))}
      <p className="quiet">
        One hit fits as {shown(fit.contrast * 100, 1)} %
        {patches.length > 1 ? `, ${shown(fit.rms * 100, 1)} rms from the readings` : ''}.
      </p>
      <button
        type="button"
        className="plain small"
        onClick={() =>
          onChange([...patches, { hits: next, contrast: opacityOf(next * scatterOf(fit.contrast)) }])
        }
      >
        Add a patch
      </button>
    </div>
  )
}

/** How far a reading lies from what one strength a hit gives it. */
function offFit(residual: number): string {
  const off = shown(residual * 100, 1)
  if (Number(off.replace('−', '-')) === 0) return 'on the fit'
  const sign = residual > 0 ? '+' : ''
  return `${Math.abs(residual) > wedgeTolerance ? 'does not fit, ' : ''}${sign}${off} from the fit`
}
