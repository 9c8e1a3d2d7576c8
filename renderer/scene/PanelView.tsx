import { useEffect, useRef, useState } from 'react'
import type { Motions } from '../../core/checks/register/groups.ts'
import type { FirstLook } from '../../core/material/first-look.ts'
import type { Zoom } from '../../core/reference/camera.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { StageCanvas } from '../stage/canvas.ts'
import type { Effort } from '../stage/stage.ts'
import type { Drawn } from './derived.ts'

interface Props {
  readonly drawn: Drawn
  /** Laid over the map until it is followed by the next; undefined: as it was. */
  readonly look?: FirstLook | null | undefined
  readonly scene: Scene
  readonly zoom: Zoom
  /** What the screen cannot show is hatched. */
  readonly marks: boolean
}

/** A hand that rests this long is still, ms. */
const restMs = 160

/** The panel drawn by the graphics card: coarse while something moves, exact at rest, idle when it is done. */
export function PanelView({ drawn, look, scene, zoom, marks }: Props) {
  const canvas = useRef<HTMLCanvasElement>(null)
  const [view, setView] = useState<StageCanvas | null>(null)
  const [fault, setFault] = useState<'lost' | 'none' | null>(null)
  /** Counts canvases: one that lost its picture for good makes way for another. */
  const [turn, setTurn] = useState(0)
  const effort = useEffort(scene, zoom, drawn.motions)
  // biome-ignore lint/correctness/useExhaustiveDependencies: another turn is another canvas
  useEffect(() => {
    const element = canvas.current
    if (element === null) return
    const opened = openOn(element, lost => setFault(lost ? 'lost' : null))
    setFault(opened === null ? 'none' : null)
    setView(opened)
    if (opened === null) return
    const watch = new ResizeObserver(() => opened.setSize(element.clientWidth, element.clientHeight))
    watch.observe(element)
    return () => {
      watch.disconnect()
      opened.close()
    }
  }, [turn])
  useEffect(() => {
    if (view === null) return
    const { stage } = view
    view.setGamut(scene.view.gamut)
    stage.setMap(drawn.levels)
    if (look !== undefined) stage.setLook(look)
    stage.setTables(drawn.tables)
    stage.setMotions(drawn.motions)
    stage.setScene(scene)
    stage.setZoom(zoom)
    stage.setEffort(effort)
    stage.setOverlay(marks ? view.pixelRatio : 0)
    view.ask()
  }, [view, drawn, look, scene, zoom, marks, effort])
  return (
    <>
      <canvas key={turn} ref={canvas} className={fault === null ? 'stage' : 'stage gone'} />
      {fault === null ? null : (
        <p
          className="no-picture"
          role="alert"
          onPointerDown={event => event.stopPropagation()}
          onPointerUp={event => event.stopPropagation()}
          onDoubleClick={event => event.stopPropagation()}
        >
          {faults[fault]}
          <button type="button" className="plain small" onClick={() => setTurn(turn + 1)}>
            Draw it again
          </button>
        </p>
      )}
    </>
  )
}

const faults = {
  lost: 'The graphics card has let go of the picture, as it does when it is overloaded or sleeps. The job is whole.',
  none: 'There is no WebGL 2 here, which draws the picture. Switch on graphics acceleration in the settings, or update the graphics driver. Everything else works.',
}

/** Null where there is no WebGL 2. */
function openOn(canvas: HTMLCanvasElement, onLost: (lost: boolean) => void): StageCanvas | null {
  try {
    return new StageCanvas(canvas, onLost)
  } catch {
    return null
  }
}

/** `moving` from the first change until the hand has rested. */
function useEffort(scene: Scene, zoom: Zoom, motions: Motions): Effort {
  const [rested, setRested] = useState({ scene, zoom, motions })
  useEffect(() => {
    const timer = setTimeout(() => setRested({ scene, zoom, motions }), restMs)
    return () => clearTimeout(timer)
  }, [scene, zoom, motions])
  const still = rested.scene === scene && rested.zoom === zoom && rested.motions === motions
  return still ? 'still' : 'moving'
}
