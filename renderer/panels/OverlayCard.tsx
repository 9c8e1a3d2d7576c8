import { useId } from 'react'
import { laidWords, leafWords, overlayWords } from '../../core/job/overlay-words.ts'
import { asPrinted, type Film, filmLimits, isPrint, type Overlay } from '../../core/reference/overlay.ts'
import { Choice } from './Choice.tsx'
import { NumberField, shown } from './NumberField.tsx'
import { Slide } from './Slide.tsx'

interface Props {
  readonly overlay: Overlay | undefined
  /** The job's carton lies open for its leaves. */
  readonly opened: boolean
  /** Print and film proof are both on the table. */
  readonly beside: boolean
  readonly onBeside: (beside: boolean) => void
  readonly open: boolean
  readonly onOpen: (open: boolean) => void
  readonly onChange: (change: Partial<Omit<Overlay, 'film'>>, film?: Partial<Film>) => void
  readonly onSettle: () => void
}

const { lift, shown: all, laid: asPrint } = asPrinted
/** All of it one print again; what the film would be stays. */
const onePrint = { lift, shown: all, laid: asPrint }

/** Board, white and overprint: lifted apart, shown or hidden, laid down as a print or as a film. */
export function OverlayCard(props: Props) {
  const { overlay = asPrinted, opened, beside, open, onOpen, onBeside, onChange, onSettle } = props
  const id = useId()
  const { film } = overlay
  const words = overlayWords(beside ? { ...overlay, laid: 'print' } : overlay)
  const [right, up] = film.registerMm
  /** A step of its own in the history. */
  const choose = (change: Parameters<Props['onChange']>[0]) => {
    onChange(change)
    onSettle()
  }
  const fold = () => {
    onBeside(false)
    if (!isPrint(overlay)) choose(onePrint)
  }
  const register = (registerMm: Film['registerMm']) => onChange({}, { registerMm })
  return (
    <section className={`leaves${open ? ' open' : ''}${beside ? ' beside' : ''}`} aria-label="Leaves">
      <button
        type="button"
        className="plain small"
        aria-expanded={open}
        aria-controls={id}
        title="Lift board, white and overprint apart (L)"
        onClick={() => onOpen(!open)}
      >
        Leaves{words === null ? '' : `: ${words}`}
      </button>
      {open || beside ? (
        <button
          type="button"
          className="plain small both"
          aria-pressed={beside}
          title={
            beside
              ? 'One picture again'
              : 'As printed and as a film proof, under the same lamps and held the same'
          }
          onClick={() => onBeside(!beside)}
        >
          Beside each other
        </button>
      ) : null}
      {!open ? null : (
        <div id={id}>
          {opened ? (
            <p className="leaves-opened">
              The carton lies open and uncut, as sheets are proofed.{' '}
              <button type="button" className="plain small" onClick={fold}>
                Fold it again
              </button>
            </p>
          ) : null}
          <Slide
            label="Lift"
            value={overlay.lift}
            min={0}
            max={1}
            step={0.01}
            says={overlay.lift === 0 ? 'laid down' : `${shown(100 * overlay.lift, 0)} %`}
            onChange={lift => onChange({ lift })}
            onSettle={onSettle}
          />
          <fieldset className="leaf-ticks">
            <legend className="unseen">Which leaves are there</legend>
            {leafWords.map(({ key, title, says }) => (
              <label className="tick" key={key} title={says}>
                <input
                  type="checkbox"
                  checked={overlay.shown[key]}
                  onChange={event => choose({ shown: { ...overlay.shown, [key]: event.target.checked } })}
                />
                {title}
              </label>
            ))}
          </fieldset>
          {beside ? null : (
            <Choice
              label="Laid down"
              value={overlay.laid}
              options={laidWords}
              onChange={value => choose({ laid: value })}
            />
          )}
          {beside || overlay.laid === 'film' ? (
            <div className="fields">
              <NumberField
                label="Air below"
                unit="mm"
                value={film.gapMm}
                min={filmLimits.gapMm[0]}
                max={filmLimits.gapMm[1]}
                step={0.01}
                digits={2}
                says="Between board and film; its other numbers are on the page of assumed numbers"
                onChange={gapMm => onChange({}, { gapMm })}
                onSettle={onSettle}
              />
              <NumberField
                label="To the right"
                unit="mm"
                value={right}
                min={filmLimits.registerMm[0]}
                max={filmLimits.registerMm[1]}
                step={0.05}
                digits={2}
                says="How far the film lies out of register"
                onChange={value => register([value, up])}
                onSettle={onSettle}
              />
              <NumberField
                label="Up"
                unit="mm"
                value={up}
                min={filmLimits.registerMm[0]}
                max={filmLimits.registerMm[1]}
                step={0.05}
                digits={2}
                says="How far the film lies out of register"
                onChange={value => register([right, value])}
                onSettle={onSettle}
              />
            </div>
          ) : null}
        </div>
      )}
    </section>
  )
}
