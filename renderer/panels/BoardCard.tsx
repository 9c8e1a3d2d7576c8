import type { ReactNode } from 'react'
import type { Job } from '../../core/job/job.ts'
import { defaultBoard } from '../../core/optics/scene.ts'
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

/** The foot of the stack: the metallised board, how large the panel is and how finely it is computed. */
export function BoardCard({ job, open, onOpen, onPanel, onBoard, onSettle, children }: Props) {
  const { panel, board } = job
  return (
    <section className="coat foot" aria-label="Foil and board">
      <h2>Foil on board</h2>
      <article className={open ? 'card open' : 'card'}>
        <button type="button" className="card-head" aria-expanded={open} onClick={onOpen}>
          <span className="thumb metal" aria-hidden="true" />
          <span className="card-name">
            <strong>
              {shown(panel.widthMm, 1)} × {shown(panel.heightMm, 1)} mm
            </strong>
            <span className="quiet">aluminium under lacquer · {Math.round(panel.resolutionPpi)} ppi</span>
          </span>
        </button>
        {open ? (
          <div className="card-body">
            <div className="fields three">
              <NumberField
                label="Width"
                unit="mm"
                value={panel.widthMm}
                min={5}
                max={1500}
                step={1}
                digits={1}
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
                digits={1}
                onChange={heightMm => onPanel({ heightMm })}
                onSettle={onSettle}
              />
              <NumberField
                label="Resolution"
                unit="ppi"
                value={panel.resolutionPpi}
                min={20}
                max={1200}
                step={10}
                onChange={resolutionPpi => onPanel({ resolutionPpi })}
                onSettle={onSettle}
              />
            </div>
            <p className="quiet">Finished size; the art is stretched over it.</p>
            <div className="fields two">
              <NumberField
                label="Waviness, rms"
                unit="mrad"
                value={board.wavinessMrad}
                min={0}
                max={50}
                step={0.5}
                digits={1}
                assumed={board.wavinessMrad === defaultBoard.waviness * 1000}
                onChange={wavinessMrad => onBoard({ wavinessMrad })}
                onSettle={onSettle}
              />
              <NumberField
                label="Gloss slope, rms"
                value={board.glossRoughness}
                min={0.005}
                max={0.5}
                step={0.005}
                digits={3}
                assumed={board.glossRoughness === defaultBoard.glossRoughness}
                onChange={glossRoughness => onBoard({ glossRoughness })}
                onSettle={onSettle}
              />
              <NumberField
                label="Grating cell, along"
                unit="µm"
                value={board.cellUm[0]}
                min={5}
                max={2000}
                step={5}
                assumed={board.cellUm[0] === defaultBoard.cell[0]}
                onChange={along => onBoard({ cellUm: [along, board.cellUm[1]] })}
                onSettle={onSettle}
              />
              <NumberField
                label="Grating cell, across"
                unit="µm"
                value={board.cellUm[1]}
                min={5}
                max={2000}
                step={5}
                assumed={board.cellUm[1] === defaultBoard.cell[1]}
                onChange={across => onBoard({ cellUm: [board.cellUm[0], across] })}
                onSettle={onSettle}
              />
            </div>
            <p className="quiet">
              Until the board is measured these are assumptions. They set how far each colour spreads.
            </p>
          </div>
        ) : null}
      </article>
      {children}
    </section>
  )
}
