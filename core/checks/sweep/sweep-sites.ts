import { checkCancelled, type Task } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { lightOf } from '../../reference/light.ts'
import { standIn } from '../../reference/pose.ts'
import type { Scene } from '../../reference/scene.ts'
import { type Cell, cellOf, type Swing, tiltAndTurn } from './cell.ts'
import { type NarrowLamp, narrowLamps } from './narrow.ts'
import { emptyCellLight, type SitePlace, SiteSweep } from './site-sweep.ts'
import { sceneUnder, type View, type ViewGrid, viewsOf } from './view-grid.ts'

/** What is swept: sites of a map, seen as a grid says. */
export interface SweepInput {
  /** Of its view the pose is replaced, of its lamps the one in the hand; a place lies on its leaf where it has one. */
  readonly scene: Scene
  readonly map: MaterialMap
  /** Tables of each spectrum among the lamps, as `bakingsOf` names them. */
  readonly sets: readonly Tables[]
  readonly places: readonly SitePlace[]
  readonly grid: ViewGrid
  /** The view alone, or the mean over its cell, in which no flash is missed. */
  readonly over: 'view' | 'cell'
  /** Y alone, or X, Y and Z. */
  readonly components: 1 | 3
}

/** Light by site and view, in units of perfect white under all lamps in the untilted panel's middle; NaN out of sight. */
export interface SweptSites {
  readonly sites: number
  readonly views: readonly View[]
  readonly components: 1 | 3
  /** Of site s, view v and component c at (s · views + v) · components + c. */
  readonly light: Float32Array
  /** Largest Y that was met in the cell, of site s and view v at s · views + v; of a view alone its own Y. */
  readonly most: Float32Array
}

/** Part of the work that was done since the last step; what is not done yet is 0. */
export interface SweepStep {
  readonly done: number
  readonly swept: SweptSites
  /** Sites and views of this step, the last ones not included. */
  readonly sites: readonly [from: number, to: number]
  readonly views: readonly [from: number, to: number]
}

/** Sites whose matter is held at once: about 1 MB. */
const sitesAtOnce = 256
/** Views a step. */
const viewsAStep = 25

/** A sweep in steps, so that its worker can hear that it is to stop, and show what it has. Throws BadInput for a bad grid. */
export function* sweepSteps(input: SweepInput): Generator<SweepStep, SweptSites> {
  const { scene, map, sets, places, grid, components } = input
  const views = viewsOf(grid)
  const swings = grid.lamps.map(lamp => tiltAndTurn(scene, lamp))
  const lamps = grid.lamps.map(lamp => narrowLamps(sceneUnder(scene, lamp)))
  const swept: SweptSites = {
    sites: places.length,
    views,
    components,
    light: new Float32Array(places.length * views.length * components),
    most: new Float32Array(places.length * views.length),
  }
  const total = places.length * views.length
  for (let from = 0; from < places.length; from += sitesAtOnce) {
    const block = places.slice(from, from + sitesAtOnce)
    const sweep = new SiteSweep(map, sets, block)
    for (let first = 0; first < views.length; first += viewsAStep) {
      const last = Math.min(views.length, first + viewsAStep)
      for (let v = first; v < last; v++) {
        const { lamp } = views[v]!
        if (input.over === 'cell')
          overCell(sweep, cellOf(swings[lamp]!, views[v]!), lamps[lamp]!, swept, from, v)
        else atView(sweep, swings[lamp]!, swept, from, v)
      }
      const done = (from * views.length + block.length * last) / total
      yield { done, swept, sites: [from, from + block.length], views: [first, last] }
    }
  }
  return swept
}

/** The same in one go. Throws Cancelled when told to stop, BadInput for a bad grid. */
export function sweepSites(input: SweepInput, task?: Task): SweptSites {
  checkCancelled(task)
  const steps = sweepSteps(input)
  for (let step = steps.next(); ; step = steps.next()) {
    if (step.done === true) return step.value
    checkCancelled(task)
    task?.progress?.(step.value.done, 'tilting')
  }
}

const one = new Float64Array(3)

function atView(sweep: SiteSweep, swing: Swing, swept: SweptSites, from: number, v: number): void {
  const { tiltForwardDeg, turnDeg } = swept.views[v]!.pose
  const scene = swing.at(tiltForwardDeg, turnDeg)
  const standing = standIn(scene)
  const light = standing.eye[2] > 0 ? lightOf(scene, standing) : null
  for (let s = 0; s < sweep.count; s++) {
    if (light === null) one.fill(Number.NaN)
    else sweep.at(s, light, one)
    keep(swept, from + s, v, one, one[1]!)
  }
}

const overOne = emptyCellLight()

function overCell(
  sweep: SiteSweep,
  cell: Cell,
  lamps: readonly NarrowLamp[],
  swept: SweptSites,
  from: number,
  v: number,
): void {
  for (let s = 0; s < sweep.count; s++) {
    sweep.over(s, cell, lamps, overOne)
    if (overOne.seen === 0) keep(swept, from + s, v, one.fill(Number.NaN), Number.NaN)
    else keep(swept, from + s, v, overOne.mean, overOne.most)
  }
}

function keep(
  { views, components, light, most }: SweptSites,
  s: number,
  v: number,
  XYZ: Float64Array,
  Y: number,
): void {
  const at = s * views.length + v
  most[at] = Y
  if (components === 1) light[at] = XYZ[1]!
  else light.set(XYZ, 3 * at)
}
