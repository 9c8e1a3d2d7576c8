import { checkCancelled, type Task } from '../base/task.ts'
import { deltaE2000 } from '../color/deltae.ts'
import { displayColor, displayTransform } from '../color/display.ts'
import { type Lab, xyzToLab } from '../color/lab.ts'
import type { XYZ } from '../color/xyz.ts'
import { sceneWhite } from '../reference/baking.ts'
import { type PanelPose, type Scene, totalLux } from '../reference/scene.ts'
import type { Sweeper } from '../reference/sweep.ts'
import { extremesOf, type Held, searchRow, searchRows } from '../reference/sweep-extremes.ts'

/** Light that reaches the eye, as numbers and on the screen. */
export interface SeenColor {
  /** In units of perfect white under all lamps in the untilted panel's middle. */
  readonly XYZ: XYZ
  /** Against the white of all lamps. */
  readonly Lab: Lab
  /** Encoded sRGB, 0..1, after exposure, adaptation, highlight compression and gamut. */
  readonly sRGB: readonly [number, number, number]
}

/** A spot by tilt and turn. */
export interface SweepTable {
  readonly turnsDeg: readonly number[]
  readonly rows: readonly {
    readonly tiltForwardDeg: number
    /** One a turn; null out of sight. */
    readonly seen: readonly (SeenColor | null)[]
  }[]
  readonly brightest: HeldColor | null
  readonly darkest: HeldColor | null
  /** As the job holds the panel. */
  readonly now: SeenColor | null
  /** The same inks on white board, as the job holds the panel. */
  readonly onWhite: SeenColor | null
  /** CIEDE2000 between the two. */
  readonly deltaE00: number | null
}

export interface HeldColor extends SeenColor {
  readonly pose: PanelPose
}

export const tableTilts: readonly number[] = Array.from({ length: 25 }, (_, i) => -60 + 5 * i)
export const tableTurns: readonly number[] = [0, 45, 90, 135, 180, 225, 270, 315]

/**
 * A spot under the scene's lamps, tilted top away at several turns; brightest and darkest are searched over both tilts
 * at the scene's own turn.
 */
export function sweepTable(sweeper: Sweeper, scene: Scene, task?: Task): SweepTable {
  const seen = seenAs(scene)
  const { pose } = scene.view
  const steps = tableTilts.length + searchRows
  const step = (done: number): void => {
    checkCancelled(task)
    task?.progress?.(done / steps, 'tilting')
  }
  const rows = tableTilts.map((tiltForwardDeg, i) => {
    step(i)
    return {
      tiltForwardDeg,
      seen: tableTurns.map(turnDeg => seen(sweeper.at({ tiltForwardDeg, tiltSideDeg: 0, turnDeg }))),
    }
  })
  const looked: Held[] = []
  for (let row = 0; row < searchRows; row++) {
    step(tableTilts.length + row)
    looked.push(...searchRow(sweeper, pose.turnDeg, row))
  }
  const found = extremesOf(sweeper, scene, pose.turnDeg, looked)
  const now = seen(sweeper.at(pose))
  const onWhite = seen(sweeper.onWhite(pose))
  return {
    turnsDeg: tableTurns,
    rows,
    brightest: found === null ? null : heldAs(seen, found.brightest),
    darkest: found === null ? null : heldAs(seen, found.darkest),
    now,
    onWhite,
    deltaE00: now === null || onWhite === null ? null : deltaE2000(now.Lab, onWhite.Lab),
  }
}

/** Light of a scene as its eye and its screen have it; null stays null. */
export function seenAs(scene: Pick<Scene, 'light' | 'view'>): (XYZ: XYZ | null) => SeenColor | null {
  const white = sceneWhite(scene)
  const transform = displayTransform({ ...scene.view, gamut: 'srgb' }, white, totalLux(scene.light))
  const out = new Float64Array(3)
  return XYZ => {
    if (XYZ === null) return null
    const [r, g, b] = displayColor(transform, ...XYZ, out)
    return { XYZ, Lab: xyzToLab(XYZ, white), sRGB: [r!, g!, b!] }
  }
}

function heldAs(seen: ReturnType<typeof seenAs>, { pose, XYZ }: Held): HeldColor | null {
  const color = seen(XYZ)
  return color === null ? null : { pose, ...color }
}
