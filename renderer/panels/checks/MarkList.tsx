import { useState } from 'react'
import type { BoxMm } from '../../../core/checks/finding.ts'
import { type MarkedArea, type MarkKind, markedBox, markKinds } from '../../../core/checks/marked.ts'
import { boxWords } from '../../../core/export/check-report.ts'
import { markWords } from '../../state/marks.ts'
import type { DrawTool } from '../../state/state.ts'
import { Choice, Pick } from '../Choice.tsx'
import { NameInput } from '../NameInput.tsx'
import { NumberField } from '../NumberField.tsx'

interface Props {
  readonly marked: readonly MarkedArea[]
  /** Name of the one that is shown on the table. */
  readonly shown: string | null
  readonly onDraw: (kind: MarkKind, tool: DrawTool) => void
  readonly onMiddle: (kind: MarkKind) => void
  readonly onShow: (area: MarkedArea) => void
  readonly onChange: (area: MarkedArea, gesture: string | null) => void
  readonly onRename: (name: string, next: string) => void
  readonly onRemove: (name: string) => void
  readonly onSettle: () => void
}

const tools: readonly { readonly tool: DrawTool; readonly title: string }[] = [
  { tool: 'rectangle', title: 'Rectangle' },
  { tool: 'ellipse', title: 'Ellipse' },
  { tool: 'polygon', title: 'Polygon' },
]

/** Areas that somebody marked, where art alone does not say what it is for. */
export function MarkList(props: Props) {
  const { marked, onDraw, onMiddle } = props
  const [kind, setKind] = useState<MarkKind>('text')
  return (
    <div className="marks-page">
      <p className="quiet">
        Type that is pixels, a code drawn as lines, a colour that must hold: where the art does not say what
        it is for, mark the area, and the checks judge it as that.
      </p>
      <Choice
        label="The area"
        value={kind}
        options={markKinds.map(one => ({ value: one, ...markWords[one] }))}
        onChange={setKind}
      />
      <p className="quiet">It {markWords[kind].says}.</p>
      <div className="actions">
        {tools.map(({ tool, title }) => (
          <button key={tool} type="button" className="plain small" onClick={() => onDraw(kind, tool)}>
            {title}
          </button>
        ))}
        <button
          type="button"
          className="plain small"
          title="A rectangle whose sides are then typed"
          onClick={() => onMiddle(kind)}
        >
          Put one in the middle
        </button>
      </div>
      {marked.length === 0 ? (
        <p>Nothing is marked yet. Choose what an area is, then draw it on the panel.</p>
      ) : (
        <ul>
          {marked.map(area => (
            <Mark key={area.name} {...props} area={area} />
          ))}
        </ul>
      )}
    </div>
  )
}

function Mark({
  area,
  marked,
  shown,
  onShow,
  onChange,
  onRename,
  onRemove,
  onSettle,
}: Props & { readonly area: MarkedArea }) {
  const { name, kind, shape } = area
  const known = markKinds.some(one => one === kind)
  const box = markedBox(area)
  return (
    <li aria-current={shown === name} className={shown === name ? 'shown' : undefined}>
      <div className="mark-head">
        <NameInput
          name={name}
          taken={marked.filter(one => one !== area).map(one => one.name)}
          onRename={next => onRename(name, next)}
        />
        <Pick
          label={`${name} is`}
          hideLabel
          value={kind}
          options={[
            ...markKinds.map(one => ({ value: one as string, title: markWords[one].title })),
            ...(known ? [] : [{ value: kind, title: `${kind}, of another version` }]),
          ]}
          onChange={next => onChange({ ...area, kind: next }, null)}
        />
      </div>
      {shape.kind === 'box' ? (
        <Sides
          name={name}
          box={shape.box}
          onBox={next => onChange({ ...area, shape: { kind: 'box', box: next } }, `mark ${name}`)}
          onSettle={onSettle}
        />
      ) : (
        <p className="quiet">{boxWords({ box })}</p>
      )}
      <div className="actions">
        {box === null ? null : (
          <button
            type="button"
            className="plain small"
            aria-label={`Show ${name}`}
            aria-pressed={shown === name}
            onClick={() => onShow(area)}
          >
            Show it
          </button>
        )}
        <button
          type="button"
          className="plain small"
          aria-label={`Delete ${name}`}
          onClick={() => onRemove(name)}
        >
          Delete
        </button>
      </div>
    </li>
  )
}

/** How far past the art a side may be typed, mm: marks may reach over its edge. */
const farMm = 5000

function Sides({
  name,
  box,
  onBox,
  onSettle,
}: {
  readonly name: string
  readonly box: BoxMm
  readonly onBox: (box: BoxMm) => void
  readonly onSettle: () => void
}) {
  const { leftMm, bottomMm, rightMm, topMm } = box
  const sides = [
    { key: 'leftMm', label: 'Left', min: -farMm, max: rightMm },
    { key: 'bottomMm', label: 'Bottom', min: -farMm, max: topMm },
    { key: 'rightMm', label: 'Right', min: leftMm, max: farMm },
    { key: 'topMm', label: 'Top', min: bottomMm, max: farMm },
  ] as const
  return (
    <fieldset className="sides">
      <legend className="unseen">Sides of {name}, from the art’s lower left corner</legend>
      {sides.map(({ key, label, min, max }) => (
        <NumberField
          key={key}
          label={label}
          unit="mm"
          value={box[key]}
          min={min}
          max={max}
          step={0.5}
          digits={1}
          onChange={next => onBox({ ...box, [key]: next })}
          onSettle={onSettle}
        />
      ))}
    </fieldset>
  )
}
