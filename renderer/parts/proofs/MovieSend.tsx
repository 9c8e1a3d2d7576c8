import { useState } from 'react'
import { mostGifRate, usualRate } from '../../../core/job/movie.ts'
import { fileStem } from '../../../core/proof/names.ts'
import type { Background } from '../../../core/reference/display-picture.ts'
import { surround } from '../../../core/reference/display-picture.ts'
import type { FlashStretch } from '../../../core/reference/flash.ts'
import type { MovieFormat } from '../../export/movie.ts'
import { Choice, Pick } from '../../panels/Choice.tsx'
import { NumberField } from '../../panels/NumberField.tsx'
import { SendCard } from '../../panels/proofs/SendCard.tsx'
import { movieWords, sendWords } from '../../panels/proofs/words.ts'
import { flashWarning } from '../../panels/track/FlashLine.tsx'
import { useDrawn } from '../../scene/derived.ts'
import { sceneOf } from '../../state/look.ts'
import { useMotions } from '../../state/register.ts'
import { jobFileName, saveOut } from '../../state/save-out.ts'
import { send } from '../../state/sending.ts'
import { runStart } from '../../state/state.ts'
import { report } from '../../state/work.ts'
import type { SendProps } from './props.ts'

const sizes = [
  { value: '1920 1080', title: '1920 × 1080, for slides' },
  { value: '1280 720', title: '1280 × 720, for messages' },
  { value: '1080 1080', title: '1080 × 1080, square' },
  { value: '1080 1920', title: '1080 × 1920, upright' },
  { value: '640 480', title: '640 × 480, for mail' },
]

const backgrounds: Readonly<Record<string, { readonly title: string; readonly of: Background }>> = {
  table: { title: 'Grey of the table', of: surround },
  black: { title: 'Black', of: [0, 0, 0] },
  white: { title: 'White', of: [255, 255, 255] },
  clear: { title: 'Transparent', of: 'transparent' },
}

/** A movie of a light run: which, how large, how smooth, for which player. */
export function MovieSend({ desk, state, job, workshop, loadMovie, card }: SendProps) {
  const { store } = desk
  const { built } = state.session
  const [pathName, setPathName] = useState(job.paths[state.view.run.path]?.name ?? '')
  const [format, setFormat] = useState<MovieFormat>('mp4')
  const [size, setSize] = useState('1280 720')
  const [rate, setRate] = useState<number>(usualRate)
  const [seconds, setSeconds] = useState<number | null>(null)
  const [behind, setBehind] = useState('table')
  const [grid, setGrid] = useState<'1' | '2' | '4'>('2')
  const [flashes, setFlashes] = useState<readonly FlashStretch[] | null>(null)
  const path = job.paths.find(({ name }) => name === pathName) ?? job.paths[0]
  const levels = built?.levels ?? null
  const drawn = useDrawn(workshop, sceneOf(job, runStart), levels, useMotions(job), error =>
    report(store, error),
  )
  const own = path?.keys.at(-1)?.timeS ?? 0
  const length = seconds ?? own
  const lacks =
    path === undefined
      ? 'The job has no light run. Make one under the table: it says how lamp and carton move.'
      : drawn === null || state.session.stale
        ? 'The picture on the table is not ready yet.'
        : length === 0
          ? 'Nothing moves on this run: say how long the movie is to be.'
          : null
  const make = (flashesAccepted: boolean): void => {
    setFlashes(null)
    void send(desk, 'movie', async ({ signal, tell }) => {
      if (path === undefined || drawn === null) return null
      const { exportMovie } = await loadMovie()
      const [width = 0, height = 0] = size.split(' ').map(Number)
      const name = fileStem(jobFileName(store.get()))
      const made = await exportMovie(
        {
          name,
          job,
          path,
          from: drawn,
          format,
          width,
          height,
          grid: grid === '1' ? 1 : grid === '2' ? 2 : 4,
          background: backgrounds[behind]?.of ?? surround,
          rate,
          seconds,
          bitrate: null,
          flash: workshop.flash,
          flashesAccepted,
        },
        { signal, progress: tell },
      )
      if (made.kind === 'flashes') {
        setFlashes(made.stretches)
        return null
      }
      const bytes = new Uint8Array(await made.file.arrayBuffer())
      return saveOut(desk, [{ name: made.fileName, bytes }], name)
    })
  }
  return (
    <SendCard {...sendWords.movie} {...card} lacks={lacks} onMake={() => make(false)}>
      {job.paths.length === 0 ? null : (
        <Pick
          label="Light run"
          value={path?.name ?? ''}
          options={job.paths.map(({ name }) => ({ value: name, title: name }))}
          onChange={setPathName}
        />
      )}
      <Choice
        label="Kind of file"
        value={format}
        options={(Object.keys(movieWords) as MovieFormat[]).map(value => ({
          value,
          title: movieWords[value].title,
        }))}
        onChange={next => {
          setFormat(next)
          if (next === 'gif') setRate(Math.min(rate, mostGifRate))
          if (next === 'mp4' && behind === 'clear') setBehind('table')
        }}
      />
      <p className="quiet">{movieWords[format].says}</p>
      <div className="fields two">
        <Pick label="Size" value={size} options={sizes} onChange={setSize} />
        <Pick
          label="Behind it"
          value={behind}
          options={Object.entries(backgrounds)
            .filter(([key]) => key !== 'clear' || format !== 'mp4')
            .map(([value, { title }]) => ({ value, title }))}
          onChange={setBehind}
        />
        <NumberField
          label="Length"
          unit="s"
          value={length}
          min={0}
          max={600}
          step={1}
          digits={1}
          aside={seconds === null ? 'as the run has it' : `the run has ${own} s`}
          onChange={next => setSeconds(next === own ? null : next)}
        />
        <NumberField
          label="Frames a second"
          value={rate}
          min={1}
          max={format === 'gif' ? mostGifRate : 120}
          step={1}
          onChange={next => setRate(Math.round(next))}
        />
      </div>
      <Choice
        label="Edges and glints"
        value={grid}
        options={[
          { value: '1', title: 'Quick' },
          { value: '2', title: 'Smooth' },
          { value: '4', title: 'Finest' },
        ]}
        onChange={setGrid}
      />
      {flashes === null ? (
        <p className="quiet">
          Its flashes are counted before it is drawn (WCAG 2.3.1): a movie that strobes can harm people with
          photosensitive epilepsy.
        </p>
      ) : (
        <div className="boxed" role="alert">
          <p>
            <strong>Nothing was drawn.</strong> {flashWarning(flashes)}. Such a movie can harm people with
            photosensitive epilepsy, and rules for what is shown in public may forbid it. Make it longer, or
            damp the run under the table.
          </p>
          <div className="actions">
            <button type="button" className="plain small" onClick={() => make(true)}>
              Make it all the same
            </button>
          </div>
        </div>
      )}
    </SendCard>
  )
}
