import type { XYZ } from '../../core/color/xyz.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { sceneOnLeaf } from '../../core/reference/on-leaf.ts'
import type { PanelPose, Scene } from '../../core/reference/scene.ts'
import { areaPlaces, type Place, Sweeper } from '../../core/reference/sweep.ts'
import { extremesOf, type Held, searchRow } from '../../core/reference/sweep-extremes.ts'

/** What is swept: a spot, or a round area about it. */
export interface SweptPlace {
  readonly spot: Place
  /** Of the area, mm; 0 = the spot alone. */
  readonly radiusMm: number
}

export type SweepQuestion =
  | {
      readonly do: 'sweep'
      readonly scene: Scene
      readonly place: SweptPlace
      readonly poses: readonly PanelPose[]
    }
  | {
      readonly do: 'look'
      readonly scene: Scene
      readonly place: SweptPlace
      readonly rows: readonly number[]
    }
  | {
      readonly do: 'extremes'
      readonly scene: Scene
      readonly place: SweptPlace
      readonly looked: readonly Held[]
    }

export interface SweepAnswers {
  /** One a pose; null out of sight. */
  readonly sweep: readonly (XYZ | null)[]
  readonly look: readonly Held[]
  readonly extremes: ReturnType<typeof extremesOf>
}

/** Answers a question about a place held in other ways. */
export function answerSweep(
  asked: SweepQuestion,
  map: MaterialMap,
  sets: readonly Tables[],
): SweepAnswers[SweepQuestion['do']] {
  const { place } = asked
  const { xMm, yMm } = place.spot
  const here = sceneOnLeaf(asked.scene, map, xMm, yMm)
  const scene = here ?? asked.scene
  // What no leaf of the carton shows is never seen.
  const places = here === null ? [] : areaPlaces(place.spot, place.radiusMm)
  const sweeper = new Sweeper(scene, map, sets, places)
  const { turnDeg } = scene.view.pose
  switch (asked.do) {
    case 'sweep':
      return asked.poses.map(pose => sweeper.at(pose))
    case 'look':
      return asked.rows.flatMap(row => searchRow(sweeper, turnDeg, row))
    case 'extremes':
      return extremesOf(sweeper, scene, turnDeg, asked.looked)
  }
}
