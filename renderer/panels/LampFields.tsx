import { BadInput } from '../../core/base/finding.ts'
import { parseSpectrum } from '../../core/color/spectrum-file.ts'
import { illuminantNames } from '../../core/optics/scene.ts'
import type { Lamp, LampForm } from '../../core/reference/scene.ts'
import { Choice, Pick } from './Choice.tsx'
import { illuminantTitle, lightOfLamp } from './lampWords.ts'
import { More } from './More.tsx'
import { NumberField } from './NumberField.tsx'
import { SpectrumPlot } from './SpectrumPlot.tsx'

interface Props {
  /** As it stands now; in a light run not where the job has it. */
  readonly lamp: Lamp
  readonly mayRemove: boolean
  /** @param gesture names a run of changes that is one step; null for a step of its own */
  readonly onChange: (change: Partial<Lamp>, gesture: string | null) => void
  readonly onRemove: () => void
  readonly onSettle: () => void
  /** A file that holds no spectrum, in one sentence. */
  readonly onBad: (message: string) => void
}

/** Where the chosen lamp stands, how bright it is and what burns in it; its form behind "More". */
export function LampFields({ lamp, mayRemove, onChange, onRemove, onSettle, onBad }: Props) {
  const { pose } = lamp
  const move = (change: Partial<Lamp['pose']>) => onChange({ pose: { ...pose, ...change } }, 'pose')
  return (
    <section className="chosen" aria-label="Chosen lamp">
      <div className="fields three">
        <NumberField
          label="Azimuth"
          unit="°"
          value={pose.azimuthDeg}
          min={-180}
          max={180}
          step={1}
          onChange={azimuthDeg => move({ azimuthDeg })}
          onSettle={onSettle}
        />
        <NumberField
          label="Elevation"
          unit="°"
          value={pose.elevationDeg}
          min={2}
          max={90}
          step={1}
          onChange={elevationDeg => move({ elevationDeg })}
          onSettle={onSettle}
        />
        <NumberField
          label="Distance"
          unit="mm"
          value={pose.distanceMm}
          min={100}
          max={5000}
          step={10}
          onChange={distanceMm => move({ distanceMm })}
          onSettle={onSettle}
        />
        <NumberField
          label="On the panel"
          unit="lx"
          value={lamp.lux}
          min={mayRemove ? 0 : 1}
          max={200_000}
          step={50}
          onChange={lux => onChange({ lux }, 'lux')}
          onSettle={onSettle}
        />
        <div className="wide">
          <Pick
            label="Spectrum"
            value={lamp.spectrum === null ? lamp.illuminant : 'own'}
            options={[
              ...illuminantNames.map(name => ({ value: name, title: illuminantTitle(name) })),
              ...(lamp.spectrum === null ? [] : [{ value: 'own' as const, title: 'Spectrum of your own' }]),
            ]}
            onChange={value => {
              if (value !== 'own') onChange({ illuminant: value, spectrum: null }, null)
            }}
          />
        </div>
      </div>
      <More label="Form, name, own spectrum">
        <label className="named">
          <span className="label">Name of the lamp</span>
          <span className="well">
            <input
              value={lamp.name}
              maxLength={40}
              onChange={event => {
                if (event.target.value.trim() !== '') onChange({ name: event.target.value }, 'name')
              }}
              onBlur={onSettle}
            />
          </span>
        </label>
        <Form lamp={lamp} onChange={onChange} onSettle={onSettle} />
        <SpectrumPlot source={lamp.spectrum ?? lamp.illuminant} name={lightOfLamp(lamp)} />
        <div className="row-of">
          <label className="file">
            Own spectrum from a file
            <input
              type="file"
              accept=".csv,.txt,.json"
              onChange={event => {
                const file = event.target.files?.[0]
                event.target.value = ''
                if (file !== undefined) void read(file)
              }}
            />
          </label>
          <button type="button" className="plain small" disabled={!mayRemove} onClick={onRemove}>
            Remove this lamp
          </button>
        </div>
      </More>
    </section>
  )

  async function read(file: File): Promise<void> {
    try {
      if (file.size > largestFile)
        throw new BadInput(
          'bad-spectrum',
          file.name,
          'the file',
          'is larger than 1 MB',
          'Give a list of wavelengths and values',
        )
      onChange({ spectrum: parseSpectrum(await file.text(), file.name) }, null)
    } catch (error) {
      onBad(error instanceof Error ? error.message : String(error))
    }
  }
}

/** More than any list of wavelengths holds, bytes. */
const largestFile = 1_000_000

const forms = [
  { value: 'disc', title: 'Disc', says: 'A torch, a bulb, a spot' },
  { value: 'rectangle', title: 'Strip or rectangle', says: 'A tube, a panel, a window' },
] as const

type FormProps = { readonly [K in 'lamp' | 'onChange' | 'onSettle']: Props[K] }

function Form({ lamp, onChange, onSettle }: FormProps) {
  const { form, pose } = lamp
  const size = (change: Partial<Extract<LampForm, { kind: 'rectangle' }>>) => {
    if (form.kind === 'rectangle') onChange({ form: { ...form, ...change } }, 'form')
  }
  return (
    <>
      <Choice
        label="Form"
        value={form.kind}
        options={forms}
        onChange={kind =>
          onChange(
            {
              form:
                kind === 'disc'
                  ? { kind }
                  : { kind, widthMm: 10 * pose.diameterMm, heightMm: pose.diameterMm, rollDeg: 0 },
            },
            null,
          )
        }
      />
      {form.kind === 'disc' ? (
        <div className="fields three">
          <NumberField
            label="Size across"
            unit="mm"
            value={pose.diameterMm}
            min={1}
            max={1000}
            step={1}
            onChange={diameterMm => onChange({ pose: { ...pose, diameterMm } }, 'form')}
            onSettle={onSettle}
          />
        </div>
      ) : (
        <div className="fields three">
          <NumberField
            label="Width"
            unit="mm"
            value={form.widthMm}
            min={1}
            max={5000}
            step={10}
            onChange={widthMm => size({ widthMm })}
            onSettle={onSettle}
          />
          <NumberField
            label="Height"
            unit="mm"
            value={form.heightMm}
            min={1}
            max={5000}
            step={10}
            onChange={heightMm => size({ heightMm })}
            onSettle={onSettle}
          />
          <NumberField
            label="Roll"
            unit="°"
            value={form.rollDeg}
            min={-180}
            max={180}
            step={5}
            onChange={rollDeg => size({ rollDeg })}
            onSettle={onSettle}
          />
        </div>
      )}
    </>
  )
}
