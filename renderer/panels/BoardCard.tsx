import type { ReactNode } from 'react'
import { type BuildKind, buildKinds, buildOf, rebuilt, varnishKinds } from '../../core/job/board-build.ts'
import type { Job } from '../../core/job/job.ts'
import { newBoard } from '../../core/job/usual.ts'
import { BoardNumbers } from './board/BoardNumbers.tsx'
import { CrossSection } from './board/CrossSection.tsx'
import { TintField } from './board/TintField.tsx'
import { Choice } from './Choice.tsx'
import { NumberField, shown } from './NumberField.tsx'

interface Props {
  readonly job: Job
  readonly open: boolean
  readonly onOpen: () => void
  readonly onPanel: (panel: Partial<Job['panel']>) => void
  readonly onBoard: (board: Partial<Job['board']>) => void
  readonly onSettle: () => void
  /** Layers that say where the board is metal. */
  readonly children: ReactNode
}

/** The foot of the stack: the metallised board, its colour and build, how large the panel is and how finely it is computed. */
export function BoardCard({ job, open, onOpen, onPanel, onBoard, onSettle, children }: Props) {
  const { panel, board } = job
  const kind = buildOf(board)
  const varnish = varnishKinds.find(
    one =>
      one.varnishRoughness === board.varnishRoughness && one.varnishScatterMrad === board.varnishScatterMrad,
  )
  return (
    <section className="coat foot" aria-label="Foil and board">
      <h2>Foil on board</h2>
      <article className={open ? 'card open' : 'card'}>
        <button type="button" className="card-head" aria-expanded={open} onClick={onOpen}>
          <span className="thumb metal" style={glint(board.tint)} aria-hidden="true" />
          <span className="card-name">
            <strong>
              {shown(panel.widthMm, tenths(panel.widthMm))} × {shown(panel.heightMm, tenths(panel.heightMm))}{' '}
              mm
            </strong>
            <span className="quiet">
              {board.tint === null ? 'aluminium' : board.tint.name.toLowerCase()} under{' '}
              {kind?.layers[0] ?? 'film'} · {Math.round(panel.resolutionPpi)} ppi
            </span>
          </span>
        </button>
        {open ? (
          <div className="card-body">
            <div className="fields two">
              <NumberField
                label="Width"
                unit="mm"
                value={panel.widthMm}
                min={5}
                max={1500}
                step={1}
                digits={tenths(panel.widthMm)}
                onChange={widthMm => onPanel({ widthMm })}
                onSettle={onSettle}
              />
              <NumberField
                label="Height"
                unit="mm"
                value={panel.heightMm}
                min={5}
                max={1500}
                step={1}
                digits={tenths(panel.heightMm)}
                onChange={heightMm => onPanel({ heightMm })}
                onSettle={onSettle}
              />
              <NumberField
                label="Computed at"
                unit="ppi"
                says="Pixels on an inch that light, checks and pictures of the panel are computed in"
                value={panel.resolutionPpi}
                min={20}
                max={1200}
                step={10}
                onChange={resolutionPpi => onPanel({ resolutionPpi })}
                onSettle={onSettle}
              />
            </div>
            <p className="quiet">Finished size; the art is stretched over it.</p>
            <BuildChoice board={board} onBoard={onBoard} />
            <TintField
              tint={board.tint}
              coatIndex={board.coatIndex}
              onChange={tint => onBoard({ tint })}
              onSettle={onSettle}
            />
            <Choice
              label="Where the art has varnish, it is"
              value={varnish?.name ?? ''}
              options={varnishKinds.map(({ name, title }) => ({ value: name, title }))}
              onChange={name => onBoard(varnishNumbers(name))}
            />
            <details className="asked">
              <summary>
                Numbers of the board
                <span className="quiet">waviness, gloss, cells, caliper, varnish</span>
              </summary>
              <BoardNumbers
                board={board}
                usualIndex={kind?.usualIndex ?? newBoard.coatIndex}
                onBoard={onBoard}
                onSettle={onSettle}
              />
            </details>
          </div>
        ) : null}
      </article>
      {children}
    </section>
  )
}

/** Tenths are shown where there are any. */
const tenths = (mm: number): 0 | 1 => (Number.isInteger(Math.round(mm * 10) / 10) ? 0 : 1)

/** The builds as cuts through the board. */
function BuildChoice({ board, onBoard }: Pick<Props, 'onBoard'> & { readonly board: Job['board'] }) {
  const now = buildOf(board)
  return (
    <fieldset className="builds">
      <legend>How the board is built</legend>
      <div className="build-kinds">
        {buildKinds.map((kind: BuildKind) => (
          <button
            key={kind.title}
            type="button"
            className="reading"
            aria-pressed={kind === now}
            onClick={() => onBoard(rebuilt(board, kind))}
          >
            {kind.title}
          </button>
        ))}
      </div>
      {now === null ? (
        <p className="quiet">The job has a build that cannot be: choose the one of your board.</p>
      ) : (
        <>
          <CrossSection kind={now} />
          <p className="quiet">{now.says}</p>
        </>
      )}
    </fieldset>
  )
}

function varnishNumbers(name: string): Partial<Job['board']> {
  const found = varnishKinds.find(one => one.name === name)
  return found === undefined
    ? {}
    : { varnishRoughness: found.varnishRoughness, varnishScatterMrad: found.varnishScatterMrad }
}

/** The metal's own colour in the small picture. */
function glint(tint: Job['board']['tint']): React.CSSProperties {
  if (tint === null) return {}
  const [L, a, b] = tint.lab
  const shade = (part: number) => `lab(${Math.min(100, L * part)} ${a * part} ${b * part})`
  return {
    background: `linear-gradient(120deg, ${shade(0.5)}, ${shade(1)} 32%, ${shade(0.65)} 48%, ${shade(1.08)} 70%, ${shade(0.55)})`,
  }
}
