import { Canvas, useFrame, useThree } from '@react-three/fiber'
import { useEffect, useMemo, useState } from 'react'
import type { Zoom } from '../../core/reference/camera.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { type Effort, Stage } from '../stage/stage.ts'
import type { Drawn } from './derived.ts'

interface Props {
  readonly drawn: Drawn
  readonly scene: Scene
  readonly zoom: Zoom
  /** What the screen cannot show is hatched. */
  readonly marks: boolean
}

/** A hand that rests this long is still, ms. */
const restMs = 160

/** The panel drawn by the graphics card: coarse while something moves, exact at rest, idle when it is done. */
export function PanelView(props: Props) {
  return (
    <Canvas
      frameloop="demand"
      flat
      linear
      gl={{ antialias: false, alpha: false, stencil: false, depth: true }}
      dpr={[1, 2]}
      aria-hidden="true"
    >
      <Picture {...props} />
    </Canvas>
  )
}

function Picture({ drawn, scene, zoom, marks }: Props) {
  const gl = useThree(state => state.gl)
  const invalidate = useThree(state => state.invalidate)
  const stage = useMemo(() => new Stage(gl), [gl])
  const effort = useEffort(scene, zoom)
  useEffect(() => {
    stage.onStale = () => invalidate()
    return () => stage.dispose()
  }, [stage, invalidate])
  useEffect(() => {
    // The codes that the stage writes are those of the scene's gamut.
    gl.getContext().drawingBufferColorSpace = scene.view.gamut
    stage.setMap(drawn.levels)
    stage.setTables(drawn.tables)
    stage.setScene(scene)
    stage.setZoom(zoom)
    stage.setEffort(effort)
    stage.setOverlay(marks ? gl.getPixelRatio() : 0)
    invalidate()
  }, [gl, stage, drawn, scene, zoom, marks, effort, invalidate])
  // A priority above 0 leaves all drawing to the stage.
  useFrame(() => {
    if (stage.render()) invalidate()
  }, 1)
  return null
}

/** `moving` from the first change until the hand has rested. */
function useEffort(scene: Scene, zoom: Zoom): Effort {
  const [rested, setRested] = useState({ scene, zoom })
  useEffect(() => {
    const timer = setTimeout(() => setRested({ scene, zoom }), restMs)
    return () => clearTimeout(timer)
  }, [scene, zoom])
  return rested.scene === scene && rested.zoom === zoom ? 'still' : 'moving'
}
