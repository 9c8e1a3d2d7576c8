import { BadInput } from '../../base/finding.ts'
import {
  type LampForm,
  type LampPose,
  type PanelPose,
  type Scene,
  withHandLamp,
} from '../../reference/scene.ts'

/** Angles that lie evenly, degrees: the first, how many, and the step between them, > 0. */
export interface Steps {
  readonly fromDeg: number
  readonly count: number
  readonly stepDeg: number
}

/** A place and size of the lamp in the hand; the scene's other lamps stay as they are. */
export interface GridLamp {
  readonly name: string
  readonly pose: LampPose
  readonly form: LampForm
}

/** Every lamp with every turn with every tilt: what a product is judged under. */
export interface ViewGrid {
  readonly lamps: readonly GridLamp[]
  /** The panel is turned in its own plane. */
  readonly turns: Steps
  /** Then its top goes away, + or comes nearer, −. */
  readonly tilts: Steps
}

/** One way to see the panel, and the cell of the grid that it stands in the middle of. */
export interface View {
  /** Index of the lamp in the grid. */
  readonly lamp: number
  readonly pose: PanelPose
  /** Width of the cell, degrees. */
  readonly tiltStepDeg: number
  readonly turnStepDeg: number
}

/** Tilt ±60° by 5°, turn all round by 15°: a starting value of this program. */
export const usualTilts: Steps = { fromDeg: -60, count: 25, stepDeg: 5 }
export const usualTurns: Steps = { fromDeg: 0, count: 24, stepDeg: 15 }

/** Diameters of a torch and of a window, mm. */
export const torchMm = 10
export const windowMm = 300

/** The hand lamp of a scene where it stands, in three sizes, tilted and turned as usual. */
export function usualGrid(scene: Pick<Scene, 'light'>): ViewGrid {
  const { name, pose, form } = scene.light.lamps[0]
  const disc = (diameterMm: number): Omit<GridLamp, 'name'> => ({
    pose: { ...pose, diameterMm },
    form: { kind: 'disc' },
  })
  return {
    lamps: [
      { name, pose, form },
      { name: 'torch', ...disc(torchMm) },
      { name: 'window', ...disc(windowMm) },
    ],
    turns: usualTurns,
    tilts: usualTilts,
  }
}

/** Most views of a grid. */
export const mostGridViews = 100_000

/**
 * Lamp by lamp, turn by turn, tilt by tilt. Throws BadInput for a grid without views, with too many, with a step that
 * is no step, or with a tilt that shows the panel's back or its edge.
 */
export function viewsOf({ lamps, turns, tilts }: ViewGrid): readonly View[] {
  requireSteps('tilts', tilts, 90)
  requireSteps('turns', turns, 720)
  const count = lamps.length * turns.count * tilts.count
  if (count === 0 || count > mostGridViews)
    throw new BadInput(
      'views-out-of-range',
      'views',
      `${lamps.length} lamps × ${turns.count} turns × ${tilts.count} tilts`,
      `expected 1 to ${mostGridViews} views, got ${count}`,
      'Choose fewer lamps, or larger steps.',
    )
  return lamps.flatMap((_, lamp) =>
    degreesOf(turns).flatMap(turnDeg =>
      degreesOf(tilts).map(
        (tiltForwardDeg): View => ({
          lamp,
          pose: { tiltForwardDeg, tiltSideDeg: 0, turnDeg },
          tiltStepDeg: tilts.stepDeg,
          turnStepDeg: turns.stepDeg,
        }),
      ),
    ),
  )
}

/** The scene under a lamp of a grid, all of it printed on one another: leaves that lie apart are no product. */
export function sceneUnder(scene: Scene, { pose, form }: GridLamp): Scene {
  const { overlay: _, ...view } = scene.view
  const light = withHandLamp(scene.light, pose)
  const [hand, ...others] = light.lamps
  return { ...scene, view, light: { ...light, lamps: [{ ...hand, form }, ...others] } }
}

export function degreesOf({ fromDeg, count, stepDeg }: Steps): readonly number[] {
  return Array.from({ length: count }, (_, i) => fromDeg + i * stepDeg)
}

function requireSteps(what: string, { fromDeg, count, stepDeg }: Steps, most: number): void {
  const toDeg = fromDeg + (count - 1) * stepDeg
  const fits = stepDeg > 0 && Number.isInteger(count) && count >= 0 && fromDeg > -most && toDeg < most
  if (fits) return
  throw new BadInput(
    'views-out-of-range',
    'views',
    what,
    `expected steps above 0° within ±${most}°, got ${count} from ${fromDeg}° by ${stepDeg}°`,
    'Give a first angle, a number of steps and a step that stay within it.',
  )
}
