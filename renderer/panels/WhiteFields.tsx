import type { Job } from '../../core/job/job.ts'
import { contrastOf, entryOf, type OpacityEntry } from '../../core/optics/opacity.ts'
import { opacityOf, scatterOf, whiteFilm } from '../../core/optics/white.ts'
import { Choice, Pick } from './Choice.tsx'
import { NumberField, shown } from './NumberField.tsx'
import { Slide } from './Slide.tsx'
import { WedgeTable } from './WedgeTable.tsx'
import { WhitePlot } from './WhitePlot.tsx'

export type WhiteNumbers = Omit<Job['whites'][number], 'target'>

interface Props {
  readonly white: WhiteNumbers
  readonly assumed: boolean
  /** Opacity is the solidity that the file states. */
  readonly stated?: boolean
  readonly onChange: (white: WhiteNumbers) => void
  /** Back to the assumption. */
  readonly onRule: () => void
  readonly onSettle: () => void
}

const entries: readonly { readonly value: OpacityEntry['from']; readonly title: string }[] = [
  { value: 'contrast', title: 'contrast ratio, black to 89 %' },
  { value: 'overBlack', title: 'reflectance over black' },
  { value: 'wedge', title: 'a wedge of hits' },
]

/** White is three numbers: coverage comes from the art, opacity and hits from the press. */
export function WhiteFields({ white, assumed, stated = false, onChange, onRule, onSettle }: Props) {
  const { opacity, hits, mottle, screen, toneGain } = white
  const contrast = contrastOf(opacity)
  const put = (change: Partial<WhiteNumbers>) => onChange({ ...white, ...change })
  return (
    <div className="white">
      <div className="fields three">
        <div className="number">
          <span className="label">Coverage</span>
          <div className="well still">in the art</div>
        </div>
        {opacity.from === 'wedge' ? (
          <div className="number">
            <span className="label">Opacity</span>
            <div className="well still">{shown(contrast * 100, 1)} %</div>
          </div>
        ) : (
          <NumberField
            label={opacity.from === 'contrast' ? 'Opacity' : 'Over black'}
            says={
              opacity.from === 'contrast'
                ? 'Reflectance of the solid over black, divided by its reflectance over a white of 89 %'
                : 'Reflectance of the solid over black'
            }
            unit="%"
            value={opacity.value * 100}
            min={0}
            max={100}
            step={1}
            digits={Number.isInteger(Math.round(opacity.value * 1e6) / 1e4) ? 0 : 1}
            assumed={assumed && !stated}
            {...(stated ? { aside: 'from the file' } : {})}
            onChange={percent => put({ opacity: { from: opacity.from, value: percent / 100 } })}
            onSettle={onSettle}
          />
        )}
        <NumberField
          label="Hits"
          says="How often the press lays the white down"
          value={hits}
          min={1}
          max={9}
          step={1}
          assumed={assumed}
          onChange={count => put({ hits: Math.round(count) })}
          onSettle={onSettle}
        />
      </div>
      <Pick
        label="The solid was read as"
        value={opacity.from}
        options={entries}
        onChange={from => put({ opacity: entryOf(from, contrast) })}
      />
      {opacity.from === 'wedge' ? (
        <WedgeTable
          patches={opacity.patches}
          onChange={patches => put({ opacity: { from: 'wedge', patches } })}
          onSettle={onSettle}
        />
      ) : null}
      {stated ? (
        <p className="quiet">
          The opacity is the solidity that the file states: an estimate, since files do not say how it is
          measured. What you enter goes before it.
        </p>
      ) : null}
      <WhitePlot contrast={contrast} hits={hits} patches={opacity.from === 'wedge' ? opacity.patches : []} />
      <p className="quiet">{hides(contrast, hits)}</p>
      <details className="asked">
        <summary>
          How it lies
          <span className="quiet">
            {screen === 'dots' ? 'dots with gaps' : 'an even film'}, {mottle === 0 ? 'no mottle' : 'mottled'}
          </span>
        </summary>
        <div className="lies">
          <Choice
            label="A coverage below 100 % is"
            value={screen}
            options={[
              { value: 'dots', title: 'Dots', says: 'The gaps keep their sparkle' },
              { value: 'even', title: 'Thin film', says: 'Hazy all over' },
            ]}
            onChange={next => put({ screen: next })}
          />
          <Slide
            label="Mottle"
            value={mottle}
            min={0}
            max={0.6}
            step={0.01}
            says={mottle === 0 ? 'none' : `± ${shown(mottle * 100, 0)} % of the coat`}
            onChange={next => put({ mottle: next })}
            onSettle={onSettle}
          />
          <NumberField
            label="Gain of a 50 % tone"
            unit="%"
            value={toneGain * 100}
            min={0}
            max={35}
            step={1}
            digits={1}
            onChange={percent => put({ toneGain: percent / 100 })}
            onSettle={onSettle}
          />
        </div>
      </details>
      {assumed ? null : (
        <button type="button" className="plain small" onClick={onRule}>
          Back to the assumed numbers
        </button>
      )}
    </div>
  )
}

/** What the coat does to the metal, in words. */
function hides(contrast: number, hits: number): string {
  const scatter = hits * scatterOf(contrast)
  const { T } = whiteFilm(scatter)
  const back = T * T
  const left = back < 0.001 ? 'nearly nothing' : `${shown(back * 100, back < 0.1 ? 1 : 0)} %`
  const many = hits === 1 ? 'One hit' : `${hits} hits`
  return `${many}: opacity ${shown(opacityOf(scatter) * 100, 0)} %. Of the light inside, ${left} makes the way to the metal and back.`
}
