import type { WebGLRenderer } from 'three'
import { cartonFor } from '../../../core/job/carton.ts'
import { setCarton, setFold } from '../../../core/job/edit.ts'
import { sceneWith } from '../../../core/job/scene.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { movingPace } from '../../../renderer/stage/pace.ts'
import { isSoftware } from '../../../renderer/stage/software.ts'
import { Stage } from '../../../renderer/stage/stage.ts'
import type { DemoGift } from './shader.ts'

/** Of the steps of a slider, ms each. */
export interface Spread {
  readonly median: number
  readonly p95: number
}

/** What the fold slider takes from a step of the hand to the picture. */
export interface FoldTimes {
  readonly graphics: string
  readonly software: boolean
  readonly width: number
  readonly height: number
  readonly steps: number
  /** Sides of the moving pictures over that of the canvas, and of how many steps each was. */
  readonly sides: Readonly<Record<string, number>>
  readonly whole: Spread
  /** From the edit of the job to the leaves where they stand. */
  readonly solid: Spread
  /** Geometry and commands given to the card. */
  readonly given: Spread
  /** From there until a pixel of the picture can be read. */
  readonly drawn: Spread
}

/** Steps of the slider there and back, after some that compile and find their pace. */
const [first, steps] = [40, 200]

/** Folds the demo carton as the app does: each step edits the job, makes its scene and draws the moving picture. */
export function foldTimes(
  renderer: WebGLRenderer,
  { map, job: flat }: DemoGift,
  width: number,
  height: number,
): FoldTimes {
  renderer.setSize(width, height, false)
  const gl = renderer.getContext()
  const pixel = new Uint8Array(4)
  const stage = new Stage(renderer)
  const software = isSoftware(renderer)
  const pace = movingPace(software)
  let job = setCarton(cartonFor(flat.panel))(flat)
  const sceneNow = () => sceneWith(job, job.light.lamps[0].pose, job.view.pose)
  stage.setMap(pyramid(map))
  stage.setTables(bakingsOf(sceneNow(), map).map(bakeTables))
  stage.setEffort('moving')
  const taken: { solid: number; given: number; drawn: number }[] = []
  const sides: Record<string, number> = {}
  for (let step = 0; step < first + steps; step++) {
    const { side } = pace
    stage.holdMovingSide(side)
    const begun = performance.now()
    job = setFold({ amount: amountAt(step) })(job)
    const scene = sceneNow()
    const solid = performance.now()
    stage.setScene(scene)
    stage.render()
    const given = performance.now()
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel)
    const drawn = performance.now()
    pace.took(drawn - solid)
    if (step < first) continue
    sides[side] = (sides[side] ?? 0) + 1
    taken.push({ solid: solid - begun, given: given - solid, drawn: drawn - given })
  }
  stage.dispose()
  const info = gl.getExtension('WEBGL_debug_renderer_info')
  return {
    graphics: String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER)),
    software,
    width,
    height,
    steps,
    sides,
    whole: spread(taken.map(({ solid, given, drawn }) => solid + given + drawn)),
    solid: spread(taken.map(({ solid }) => solid)),
    given: spread(taken.map(({ given }) => given)),
    drawn: spread(taken.map(({ drawn }) => drawn)),
  }
}

/** Every step of the slider is 1/80, from closed to flat and back. */
function amountAt(step: number): number {
  const at = step % 160
  return Math.abs(at - 80) / 80
}

function spread(times: readonly number[]): Spread {
  const sorted = [...times].sort((a, b) => a - b)
  const at = (part: number) => sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))]!
  return { median: at(0.5), p95: at(0.95) }
}
