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
  const effort = useEffort(scene, zoom, drawn.motions)
  useEffect(() => {
    const element = canvas.current
    if (element === null) return
    const opened = new StageCanvas(element)
    const watch = new ResizeObserver(() => opened.setSize(element.clientWidth, element.clientHeight))
    watch.observe(element)
    setView(opened)
    return () => {
      watch.disconnect()
      opened.close()
    }
  }, [])
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
  return <canvas ref={canvas} className="stage" />
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
