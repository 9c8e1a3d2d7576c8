import { useState } from 'react'
import { BadInput } from '../../../core/base/finding.ts'
import type { Blank } from '../../../core/carton/blank.ts'
import { cartonFor, type JobCarton, type SizedForm } from '../../../core/job/carton.ts'
import type { Job } from '../../../core/job/job.ts'
import { AllowanceFields } from './AllowanceFields.tsx'
import { ArtFields } from './ArtFields.tsx'
import { DieDrawing } from './DieDrawing.tsx'
import { HingeSlides } from './HingeSlides.tsx'
import { formWords, lengthWords, SizeFields } from './SizeFields.tsx'

interface Props {
  readonly carton: JobCarton | null
  readonly panel: Job['panel']
  /** What the sizes make, or what is wrong with them. */
  readonly blank: Blank | BadInput | null
  readonly onCarton: (carton: JobCarton | null) => void
  readonly onForm: (form: Partial<SizedForm>, gesture: string | null) => void
  /** A dieline drawing was chosen. */
  readonly onDrawing: (file: File) => void
  readonly onFold: (fold: Partial<JobCarton['fold']>, gesture: string) => void
  readonly onArts: (arts: JobCarton['arts']) => void
  readonly onSettle: () => void
}

/** The carton that the panel is folded into. */
export function CartonCard(props: Props) {
  const { carton, panel, blank } = props
  const [open, setOpen] = useState(false)
  return (
    <section className="coat" aria-label="Carton">
      <h2>Carton</h2>
      {carton === null ? (
        <div className="card">
          <p className="quiet carton-none">The panel lies flat.</p>
          <p className="actions carton-none">
            <button
              type="button"
              className="plain small"
              onClick={() => {
                props.onCarton(cartonFor(panel))
                setOpen(true)
              }}
            >
              Fold it into a carton
            </button>
            <DrawingButton
              onDrawing={file => {
                props.onDrawing(file)
                setOpen(true)
              }}
            />
          </p>
        </div>
      ) : (
        <article className={open ? 'card open' : 'card'}>
          <button type="button" className="card-head" aria-expanded={open} onClick={() => setOpen(!open)}>
            <span className="thumb carton" aria-hidden="true">
              <CartonThumb />
            </span>
            <span className="card-name">
              <strong>{sizeWords(carton.form, blank)}</strong>
              <span className="quiet">
                {carton.form.from === 'sizes' ? formWords(carton.form) : carton.form.name}
              </span>
            </span>
          </button>
          {open ? <Body {...props} carton={carton} /> : null}
        </article>
      )}
    </section>
  )
}

function Body(props: Props & { readonly carton: JobCarton }) {
  const { carton, blank, onSettle } = props
  const { form } = carton
  return (
    <div className="card-body">
      {form.from === 'sizes' ? (
        <SizeFields {...props} form={form} />
      ) : (
        <p className="quiet">
          {form.lines.length} lines of {form.name}
        </p>
      )}
      {blank instanceof BadInput ? (
        <p className="told" role="alert">
          <span className="badge" aria-hidden="true">
            !
          </span>
          {blank.message}
        </p>
      ) : blank === null ? null : (
        <>
          <DieDrawing blank={blank} />
          <ArtFields carton={carton} blank={blank} onArts={props.onArts} onSettle={onSettle} />
          <details className="asked">
            <summary>
              Each fold
              <span className="quiet">{Object.keys(carton.fold.own).length} set apart</span>
            </summary>
            <HingeSlides blank={blank} fold={carton.fold} onFold={props.onFold} onSettle={onSettle} />
          </details>
        </>
      )}
      {form.from === 'sizes' ? (
        <details className="asked">
          <summary>
            Allowances
            <span className="quiet">glue flap, tuck, dust flaps, clearances</span>
          </summary>
          <AllowanceFields
            form={form}
            blank={blank instanceof BadInput ? null : blank}
            onForm={props.onForm}
            onSettle={onSettle}
          />
        </details>
      ) : null}
      <LastLine {...props} form={form} />
    </div>
  )
}

/** What else can be done with the carton. */
function LastLine({
  form,
  panel,
  onForm,
  onDrawing,
  onCarton,
}: Props & { readonly form: JobCarton['form'] }) {
  return (
    <p className="actions">
      {form.from === 'sizes' ? (
        <button
          type="button"
          className="plain small"
          title="Front as large as the art"
          onClick={() => onForm(sizedBy(panel), null)}
        >
          Size it by the art
        </button>
      ) : (
        <button type="button" className="plain small" onClick={() => onCarton(cartonFor(panel))}>
          Make it from sizes
        </button>
      )}
      <DrawingButton onDrawing={onDrawing} />
      <button type="button" className="plain small" onClick={() => onCarton(null)}>
        Lay it flat for good
      </button>
    </p>
  )
}

function DrawingButton({ onDrawing }: Pick<Props, 'onDrawing'>) {
  return (
    <label className="file" title="An SVG with cut and crease in layers of their own, or in two colours">
      Read a dieline drawing
      <input
        type="file"
        accept=".svg,image/svg+xml"
        onChange={event => {
          const file = event.target.files?.[0]
          event.target.value = ''
          if (file !== undefined) onDrawing(file)
        }}
      />
    </label>
  )
}

function sizedBy(panel: Job['panel']): Partial<SizedForm> {
  const { form } = cartonFor(panel)
  return form.from === 'sizes'
    ? { lengthMm: form.lengthMm, heightMm: form.heightMm, measure: form.measure }
    : {}
}

function sizeWords(form: JobCarton['form'], blank: Props['blank']): string {
  if (form.from === 'sizes') return lengthWords(form)
  if (blank === null || blank instanceof BadInput) return 'A drawing'
  return `${shortMm(blank.widthMm)} × ${shortMm(blank.heightMm)} mm, drawn`
}

const shortMm = (mm: number): string => String(Math.round(mm * 10) / 10)

/** A box in parallel perspective. */
function CartonThumb() {
  return (
    <svg viewBox="0 0 42 42" aria-hidden="true">
      <path d="M8 13h16v22H8z" fill="#c4c4c4" />
      <path d="M24 13l9-6v22l-9 6z" fill="#8f8f8f" />
      <path d="M8 13l9-6h16l-9 6z" fill="#dcdcdc" />
    </svg>
  )
}
