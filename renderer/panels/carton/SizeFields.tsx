import { type End, endKinds, type MainPanel, type Measure } from '../../../core/carton/spec.ts'
import { cartonStyles } from '../../../core/carton/style.ts'
import type { SizedForm } from '../../../core/job/carton.ts'
import { Choice, Pick } from '../Choice.tsx'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly form: SizedForm
  readonly onForm: (form: Partial<SizedForm>, gesture: string | null) => void
  readonly onSettle: () => void
}

const measureWords: readonly { readonly value: Measure; readonly title: string; readonly says: string }[] = [
  { value: 'outside', title: 'outside', says: 'Of the closed carton' },
  { value: 'inside', title: 'inside', says: 'Room for what goes in, where the glue flap is' },
  { value: 'crease', title: 'creases', says: 'From crease to crease, of front and side on the flat blank' },
]

const endWords: Readonly<Record<End['kind'], string>> = {
  tuck: 'tuck',
  seal: 'glued',
  'snap-lock': 'snap-lock',
  'crash-lock': 'crash-lock',
  open: 'open',
}

const lengths = [
  { key: 'lengthMm', label: 'Length', says: 'Along the front' },
  { key: 'widthMm', label: 'Width', says: 'From front to back' },
  { key: 'heightMm', label: 'Height', says: 'Along the body, from end to end' },
] as const

/** Style, ends and sizes of a carton. */
export function SizeFields({ form, onForm, onSettle }: Props) {
  const style = styleOf(form)
  return (
    <>
      <Pick
        label="Style"
        value={style?.name ?? ''}
        options={[
          ...(style === undefined ? [{ value: '', title: 'ends of its own' }] : []),
          ...cartonStyles.map(({ name }) => ({ value: name as string, title: spaced(name) })),
        ]}
        onChange={name => {
          const chosen = cartonStyles.find(one => one.name === name)
          if (chosen !== undefined) onForm({ top: chosen.top, bottom: chosen.bottom }, null)
        }}
      />
      <p className="quiet">{capital(style?.says ?? 'its two ends are chosen apart')}.</p>
      <EndPick label="Top" end={form.top} onEnd={top => onForm({ top }, null)} />
      <EndPick label="Bottom" end={form.bottom} onEnd={bottom => onForm({ bottom }, null)} />
      <div className="fields two">
        {lengths.map(({ key, label, says }) => (
          <NumberField
            key={key}
            label={label}
            says={says}
            unit="mm"
            value={form[key]}
            min={1}
            max={1500}
            step={1}
            digits={Number.isInteger(form[key]) ? 0 : 1}
            onChange={value => onForm({ [key]: value }, `carton ${key}`)}
            onSettle={onSettle}
          />
        ))}
      </div>
      <Choice
        label="Sizes are"
        value={form.measure}
        options={measureWords}
        onChange={measure => onForm({ measure }, null)}
      />
      <label className="named">
        <span className="label">Catalogue code</span>
        <span className="well">
          <input
            value={form.code}
            maxLength={60}
            placeholder="none"
            title="As your catalogue calls it. Only a label: the geometry comes from the two ends."
            onChange={event => onForm({ code: event.target.value }, 'carton code')}
            onBlur={onSettle}
          />
        </span>
      </label>
    </>
  )
}

function EndPick(props: { readonly label: string; readonly end: End; readonly onEnd: (end: End) => void }) {
  const { label, end, onEnd } = props
  const options = endKinds.flatMap(kind =>
    kind === 'tuck' || kind === 'seal'
      ? (['front', 'back'] as const).map(on => ({
          value: `${kind} ${on}`,
          title: `${endWords[kind]}, hangs on the ${on}`,
        }))
      : [{ value: kind as string, title: endWords[kind] }],
  )
  return (
    <Pick
      label={label}
      value={end.kind === 'tuck' || end.kind === 'seal' ? `${end.kind} ${end.on}` : end.kind}
      options={options}
      onChange={value => onEnd(endOf(value))}
    />
  )
}

function endOf(value: string): End {
  const [kind, on] = value.split(' ') as [End['kind'], MainPanel]
  return kind === 'tuck' || kind === 'seal' ? { kind, on } : { kind }
}

const sameEnd = (a: End, b: End): boolean =>
  a.kind === b.kind && (a.kind === 'tuck' || a.kind === 'seal' ? a.on === (b as typeof a).on : true)

const styleOf = ({ top, bottom }: SizedForm) =>
  cartonStyles.find(style => sameEnd(style.top, top) && sameEnd(style.bottom, bottom))

/** Style and code of a carton in a line. */
export function formWords(form: SizedForm): string {
  const style = styleOf(form)
  const words =
    style === undefined
      ? `${endWords[form.top.kind]} top, ${endWords[form.bottom.kind]} bottom`
      : spaced(style.name)
  return capital(form.code === '' ? words : `${words} · ${form.code}`)
}

export const lengthWords = (form: SizedForm): string =>
  `${lengths.map(({ key }) => Math.round(form[key] * 10) / 10).join(' × ')} mm`

const spaced = (name: string): string => name.replace('-', ' ')

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
