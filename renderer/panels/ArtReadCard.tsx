import { useState } from 'react'
import { mostPpiOf, pixelsOf } from '../../core/art/drawn/size.ts'
import { drawnPpiRange } from '../../core/art/drawn/usual.ts'
import { type Art, type ArtPage, processCount, type ReadAs } from '../../core/art/layer.ts'
import { plateNames } from '../../core/art/plate-name.ts'
import { Pick } from './Choice.tsx'
import { NumberField } from './NumberField.tsx'

interface Props {
  readonly art: Art
  /** Names of the files that it is made of, in their order. */
  readonly files: readonly string[]
  /** Pixels on an inch that the panel is computed at. */
  readonly panelPpi: number
  readonly onPpi: (ppi: number) => void
  readonly onReadAs: (readAs: ReadAs) => void
}

/** What the art is to rakelight: its files, page, inks and fonts, and how finely that is painted which is drawn. */
export function ArtReadCard({ art, files, panelPpi, onPpi, onReadAs }: Props) {
  const { page } = art
  const drawn = page?.sizeMm
  return (
    <>
      <dl className="facts">
        <Files art={art} files={files} />
        {page === undefined || page.count === 1 ? null : (
          <Fact name="Page">
            {page.number} of {page.count}
          </Fact>
        )}
        <Fact name="Inks">{inksOf(art).join(', ')}</Fact>
        {page === undefined || page.fonts.length === 0 ? null : <Fonts fonts={page.fonts} />}
        {drawn === undefined ? (
          <Fact name="Pixels">
            {art.width} × {art.height}
            {art.resolutionPpi === null ? '' : `, ${Math.round(art.resolutionPpi)} on an inch`}
          </Fact>
        ) : null}
      </dl>
      {drawn === undefined ? null : <DrawnAt art={art} sizeMm={drawn} panelPpi={panelPpi} onPpi={onPpi} />}
      {page === undefined || page.inexact.length === 0 ? null : (
        <>
          <Pick
            label="What is read"
            value={page.readAs}
            options={[
              { value: 'inks', title: 'The amount of every ink' },
              { value: 'layers', title: 'Where each layer is painted' },
            ]}
            onChange={onReadAs}
          />
          <p className="quiet">
            {page.inexact.length === 1 ? 'One object' : `${page.inexact.length} objects`} cannot be read ink
            by ink; there the inks are as near as can be. The findings say what and why.
          </p>
        </>
      )}
    </>
  )
}

function Fact({ name, children }: { readonly name: string; readonly children: React.ReactNode }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </div>
  )
}

function Files({ art, files }: Pick<Props, 'art' | 'files'>) {
  if (files.length === 1) return <Fact name="File">{files[0]}</Fact>
  const plates = art.format === 'plates' ? plateNames(files) : null
  return (
    <Fact name={plates === null ? 'Files, lowest first' : 'Plates, by the names of their files'}>
      <ul>
        {files.map((file, i) => (
          <li key={file}>
            {plates === null ? null : <strong>{plates[i]}</strong>}
            <span className={plates === null ? undefined : 'quiet'}>{file}</span>
          </li>
        ))}
      </ul>
    </Fact>
  )
}

/** Inks as their plates lie in the file. */
function inksOf({ colorMode, channels }: Art): readonly string[] {
  const process =
    colorMode === 'CMYK' ? ['cyan', 'magenta', 'yellow', 'black'] : [modeWords[colorMode] ?? colorMode]
  const spots = channels.filter(one => one.kind === 'spot').map(one => one.name)
  return processCount(colorMode) === 0 ? spots : [...process, ...spots]
}

const modeWords: Readonly<Partial<Record<Art['colorMode'], string>>> = {
  RGB: 'red, green and blue light',
  Grayscale: 'one grey',
  Bitmap: 'one black',
  Lab: 'Lab colours',
}

function Fonts({ fonts }: { readonly fonts: ArtPage['fonts'] }) {
  const missing = fonts.filter(font => !font.embedded)
  return (
    <Fact name="Fonts">
      {missing.length === 0
        ? `${fonts.length === 1 ? 'one' : fonts.length}, in the file`
        : `not in the file, so that other letters stand in: ${missing.map(font => font.name).join(', ')}`}
    </Fact>
  )
}

interface DrawnProps extends Pick<Props, 'art' | 'panelPpi' | 'onPpi'> {
  readonly sizeMm: readonly [number, number]
}

/** What is drawn has no pixels of its own: how many it is painted in, and what they take. */
function DrawnAt({ art, sizeMm, panelPpi, onPpi }: DrawnProps) {
  const now = art.resolutionPpi ?? 0
  const [wanted, setWanted] = useState<number | null>(null)
  const ppi = wanted ?? now
  const { width, height } = pixelsOf(...sizeMm, ppi)
  const planes = processCount(art.colorMode) + art.channels.length
  const [least] = drawnPpiRange
  return (
    <form
      className="drawn-at"
      onSubmit={event => {
        event.preventDefault()
        if (ppi !== now) onPpi(ppi)
        setWanted(null)
      }}
    >
      <NumberField
        label="Art drawn at"
        unit="ppi"
        says="Pixels on an inch that shapes and type of the file are painted in"
        value={ppi}
        min={least}
        max={Math.max(least, mostPpiOf(...sizeMm))}
        step={50}
        onChange={setWanted}
      />
      <button type="submit" className="plain edged" disabled={ppi === now}>
        Draw it anew
      </button>
      <p className="quiet" aria-live="polite">
        {width} × {height} pixels{ppi === now ? '' : `, ${timesWords((ppi / now) ** 2)} as many as now`};{' '}
        {planes} plates of {megabytes(width * height)} each. The panel itself is computed at{' '}
        {Math.round(panelPpi)} ppi, which its card sets.
      </p>
    </form>
  )
}

/** One byte a pixel of a plate. */
function megabytes(bytes: number): string {
  const mb = bytes / 1e6
  return `${mb < 10 ? mb.toFixed(1) : Math.round(mb)} MB`
}

const timesWords = (times: number): string =>
  `${times < 10 ? Number(times.toFixed(1)) : Math.round(times)} times`
