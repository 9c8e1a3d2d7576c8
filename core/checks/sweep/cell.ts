import { type Light, lightOf } from '../../reference/light.ts'
import { lampPosition, standIn } from '../../reference/pose.ts'
import type { Scene } from '../../reference/scene.ts'
import { minus, toPanel, type Vec3 } from '../../reference/vector.ts'
import { type GridLamp, sceneUnder, type View } from './view-grid.ts'

/** Two angles, degrees, that move panel or eye together; the lamps stand where they are in the scene. */
export interface Swing {
  /** Where the lamps are that burn, table's frame, mm. */
  readonly lamps: readonly Vec3[]
  /** The scene with both angles so. */
  at(first: number, second: number): Scene
}

/** The panel tilted, then turned, as a view of a grid has it. */
export function tiltAndTurn(scene: Scene, lamp: GridLamp): Swing {
  const lit = sceneUnder(scene, lamp)
  return swing(lit, (tiltForwardDeg, turnDeg) => ({
    ...lit,
    view: { ...lit.view, pose: { tiltForwardDeg, tiltSideDeg: 0, turnDeg } },
  }))
}

/** The eye on its sphere, to the side, then up; the panel is held as the scene has it. */
export function eyeAround(scene: Scene, lamp: GridLamp): Swing {
  const lit = sceneUnder(scene, lamp)
  return swing(lit, (sideDeg, riseDeg) => ({
    ...lit,
    view: { ...lit.view, eyeAt: { sideDeg, riseDeg } },
  }))
}

function swing({ light }: Scene, at: Swing['at']): Swing {
  const burning = light.lamps.filter(({ lux }) => lux > 0)
  return { lamps: burning.map(({ pose }) => lampPosition(pose)), at }
}

export type GaussPoints = 1 | 2 | 3

/** Gauss's rule on 0..1: places and weights. Abramowitz & Stegun, table 25.4. */
export const gauss: Readonly<
  Record<GaussPoints, { readonly at: readonly number[]; readonly weights: readonly number[] }>
> = {
  1: { at: [0.5], weights: [1] },
  2: { at: [0.5 - Math.sqrt(1 / 12), 0.5 + Math.sqrt(1 / 12)], weights: [0.5, 0.5] },
  3: { at: [0.5 - Math.sqrt(3 / 20), 0.5, 0.5 + Math.sqrt(3 / 20)], weights: [5 / 18, 8 / 18, 5 / 18] },
}

/** The place that lies so far between the ends, 0..1. */
export const between = ([low, high]: readonly [number, number], part: number): number =>
  low + part * (high - low)

/** Positions that {@link Cell.positions} holds: the middle, both ends of each angle, and the corner where both are largest. */
export const cellPlaces = 6

/** A rectangle of two angles, degrees; it halves along either. Made once for all sites, which share what it works out. */
export class Cell {
  readonly #swing: Swing
  readonly first: readonly [low: number, high: number]
  readonly second: readonly [low: number, high: number]
  readonly #lights: (Light | null)[][] = []
  #positions: Float64Array | undefined
  #halves: [(readonly [Cell, Cell])?, (readonly [Cell, Cell])?] = []

  constructor(swing: Swing, first: readonly [number, number], second: readonly [number, number]) {
    this.#swing = swing
    this.first = first
    this.second = second
  }

  /** The middle. */
  get middle(): readonly [first: number, second: number] {
    return [(this.first[0] + this.first[1]) / 2, (this.second[0] + this.second[1]) / 2]
  }

  /**
   * Lights at the places of Gauss's rule with so many points along either angle, the second angle inner; null where the
   * eye is not on the print side.
   */
  lights(firstPoints: GaussPoints, secondPoints: GaussPoints): readonly (Light | null)[] {
    const index = 3 * firstPoints + secondPoints
    const known = this.#lights[index]
    if (known !== undefined) return known
    const made = gauss[firstPoints].at.flatMap(a =>
      gauss[secondPoints].at.map(b => {
        const scene = this.#swing.at(between(this.first, a), between(this.second, b))
        const standing = standIn(scene)
        return standing.eye[2] > 0 ? lightOf(scene, standing) : null
      }),
    )
    this.#lights[index] = made
    return made
  }

  /** Eye, then each lamp, x, y, z in the panel's frame, at each of {@link cellPlaces}. */
  get positions(): Float64Array {
    this.#positions ??= this.#worked()
    return this.#positions
  }

  /** Halves along the first angle (0) or the second (1). */
  halves(angle: 0 | 1): readonly [Cell, Cell] {
    const known = this.#halves[angle]
    if (known !== undefined) return known
    const [low, high] = angle === 0 ? this.first : this.second
    const half = (low + high) / 2
    const part = (range: readonly [number, number]): Cell =>
      angle === 0 ? new Cell(this.#swing, range, this.second) : new Cell(this.#swing, this.first, range)
    const made = [part([low, half]), part([half, high])] as const
    this.#halves[angle] = made
    return made
  }

  #worked(): Float64Array {
    const { lamps } = this.#swing
    const [first, second] = this.middle
    const places = [
      [first, second],
      [this.first[1], second],
      [this.first[0], second],
      [first, this.second[1]],
      [first, this.second[0]],
      [this.first[1], this.second[1]],
    ] as const
    const out = new Float64Array(cellPlaces * 3 * (1 + lamps.length))
    let to = 0
    for (const [a, b] of places) {
      const { rotation, eye, offset = [0, 0, 0] } = standIn(this.#swing.at(a, b))
      out.set(eye, to)
      for (const lamp of lamps) {
        to += 3
        out.set(minus(toPanel(rotation, lamp), offset), to)
      }
      to += 3
    }
    return out
  }
}

/** The cell of a view. */
export function cellOf(swing: Swing, { pose, tiltStepDeg, turnStepDeg }: View): Cell {
  const around = (deg: number, step: number) => [deg - step / 2, deg + step / 2] as const
  return new Cell(swing, around(pose.tiltForwardDeg, tiltStepDeg), around(pose.turnDeg, turnStepDeg))
}
