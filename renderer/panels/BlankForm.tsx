import { useState } from 'react'
import type { BadInput } from '../../core/base/finding.ts'
import { cartonStyles } from '../../core/carton/style.ts'
import type { SizedForm } from '../../core/job/carton.ts'
import { newBoard } from '../../core/job/usual.ts'
import { Choice, Pick } from './Choice.tsx'
import { NumberField } from './NumberField.tsx'

export interface BlankProps {
  /** A job without art, for a flat panel of that size, mm. */
  readonly onPanel: (widthMm: number, heightMm: number) => void
  /** The same for a carton on board so thick, mm; returns what is wrong with it. */
  readonly onCarton: (form: SizedForm, caliperMm: number) => BadInput | null
}

/** Where a job begins that has no art yet. */
export function BlankForm({ onPanel, onCarton }: BlankProps) {
  const [kind, setKind] = useState<'panel' | 'carton'>('panel')
  return (
    <div>
      <h3>No art yet</h3>
      <p>Choose effects and white on a blank panel or carton; the art comes later.</p>
      <Choice
        label="It is"
        value={kind}
        options={[
          { value: 'panel', title: 'a flat panel' },
          { value: 'carton', title: 'a carton' },
        ]}
        onChange={setKind}
      />
      {kind === 'panel' ? <PanelForm onPanel={onPanel} /> : <CartonForm onCarton={onCarton} />}
    </div>
  )
}

function PanelForm({ onPanel }: { readonly onPanel: BlankProps['onPanel'] }) {
  const [width, setWidth] = useState(60)
  const [height, setHeight] = useState(90)
  return (
    <>
      <div className="sizes">
        <Millimetres label="Width" value={width} onChange={setWidth} />
        <Millimetres label="Height" value={height} onChange={setHeight} />
      </div>
      <button type="button" className="plain edged" onClick={() => onPanel(width, height)}>
        Begin without art
      </button>
    </>
  )
}

function CartonForm({ onCarton }: { readonly onCarton: BlankProps['onCarton'] }) {
  const [style, setStyle] = useState<(typeof cartonStyles)[number]['name']>('reverse-tuck')
  const [length, setLength] = useState(60)
  const [width, setWidth] = useState(40)
  const [height, setHeight] = useState(100)
  const [caliper, setCaliper] = useState<number>(newBoard.caliperMm)
  const [wrong, setWrong] = useState<BadInput | null>(null)
  const begin = () => {
    const { top, bottom } = cartonStyles.find(({ name }) => name === style)!
    const sizes = { lengthMm: length, widthMm: width, heightMm: height }
    setWrong(
      onCarton({ from: 'sizes', top, bottom, ...sizes, measure: 'outside', own: {}, code: '' }, caliper),
    )
  }
  return (
    <>
      <Pick
        label="Style"
        value={style}
        options={cartonStyles.map(({ name }) => ({ value: name, title: name.replace('-', ' ') }))}
        onChange={setStyle}
      />
      <div className="sizes">
        <Millimetres label="Length" says="Along the front, outside" value={length} onChange={setLength} />
        <Millimetres label="Width" says="From front to back, outside" value={width} onChange={setWidth} />
        <Millimetres label="Height" says="From end to end, outside" value={height} onChange={setHeight} />
        <NumberField
          label="Caliper"
          says="Thickness of the board"
          unit="mm"
          value={caliper}
          min={0.1}
          max={3}
          step={0.05}
          digits={2}
          onChange={setCaliper}
        />
      </div>
      {wrong === null ? null : (
        <p className="note wrong" role="alert">
          {wrong.message}
        </p>
      )}
      <button type="button" className="plain edged" onClick={begin}>
        Begin without art
      </button>
    </>
  )
}

function Millimetres(props: {
  readonly label: string
  readonly says?: string
  readonly value: number
  readonly onChange: (value: number) => void
}) {
  return <NumberField {...props} unit="mm" min={5} max={1500} step={1} />
}
