import { useEffect, useRef, useState } from 'react'
import type { XYZ } from '../../core/color/xyz.ts'
import { seenAs } from '../../core/job/probe-sweep.ts'
import type { PanelPose, Scene } from '../../core/reference/scene.ts'
import type { Held } from '../../core/reference/sweep-extremes.ts'
import { searchRows } from '../../core/reference/sweep-extremes.ts'
import {
  type PolarKind,
  polarPose,
  polarReachDeg,
  type SweepAxis,
  sweepRange,
  turnedTo,
} from '../../core/reference/sweep-poses.ts'
import type {
  Extremes,
  HeldLight,
  LoupeView,
  PolarLight,
  SeenLight,
  SweepCurve,
} from '../panels/probe/types.ts'
import type { Drawn } from './derived.ts'
import type { SweptPlace } from './sweeping.ts'
import type { SpotPlace, Workshop } from './workshop.ts'

/** Sums for the probe, each begun when its inputs have rested, in parts, and given up when they change. */

/** A hand that rests this long wants to know, ms. */
const restMs = 180
/** Poses asked for at a time: short enough that a reading does not wait. */
const posesAtOnce = 48
const rowsAtOnce = 4
/** Steps of a curve; of turn, twice that. */
const curveStepDeg = 1
/** Cells of 3° and 5°: a flash is no narrower than a small lamp, and hardly falls between. */
const polarSpokes = 72
const polarRings = 20

/** A spot along one angle, the others as the panel is held. */
export function useCurve(
  workshop: Workshop,
  drawn: Drawn | null,
  scene: Scene,
  spot: SpotPlace | null,
  axis: SweepAxis,
): SweepCurve | null {
  const still = withoutAxis(scene, axis)
  return useParts(drawn, keyOf(axis, spot, still), async (show: (curve: SweepCurve) => void, wanted) => {
    if (drawn === null || spot === null) return
    const [from, to] = sweepRange[axis]
    const step = axis === 'turn' ? 2 * curveStepDeg : curveStepDeg
    const degs = Array.from({ length: (to - from) / step + 1 }, (_, i) => from + i * step)
    const light = lightAs(still)
    const points: { deg: number; seen: SeenLight | null }[] = []
    for (let i = 0; i < degs.length && wanted(); i += posesAtOnce) {
      const part = degs.slice(i, i + posesAtOnce)
      const poses = part.map(deg => turnedTo(still.view.pose, axis, deg))
      const place = { spot, radiusMm: 0 }
      const found = await workshop.swept({ do: 'sweep', scene: still, place, poses })
      points.push(...part.map((deg, k) => ({ deg, seen: light(found[k] ?? null) })))
    }
    if (wanted()) show({ axis, points })
  })
}

/** A spot or an area by tilt and angle; shown ring by ring. */
export function usePolar(
  workshop: Workshop,
  drawn: Drawn | null,
  scene: Scene,
  spot: SpotPlace | null,
  kind: PolarKind,
  radiusMm: number,
): PolarLight | null {
  // Turned, the map is that of the panel straight in its plane, whatever its turn is now.
  const still = kind === 'turn' ? withPose(scene, straight) : withTurnOnly(scene)
  return useParts(
    drawn,
    keyOf(kind, radiusMm, spot, still),
    async (show: (polar: PolarLight) => void, wanted) => {
      if (drawn === null || spot === null) return
      const light = lightAs(still)
      const rings: PolarLight['rings'][number][] = []
      for (let ring = 0; ring < polarRings && wanted(); ring++) {
        const tiltDeg = ((ring + 0.5) * polarReachDeg) / polarRings
        const poses = Array.from({ length: polarSpokes }, (_, i) =>
          polarPose(still.view.pose, kind, tiltDeg, ((i + 0.5) * 360) / polarSpokes),
        )
        const found = await workshop.swept({ do: 'sweep', scene: still, place: { spot, radiusMm }, poses })
        rings.push({ tiltDeg, seen: found.map(light) })
        if (wanted()) show({ kind, radiusMm, rings: [...rings], whole: ring === polarRings - 1 })
      }
    },
  )
}

/** The brightest and the darkest tilt at the panel's turn. */
export function useExtremes(
  workshop: Workshop,
  drawn: Drawn | null,
  scene: Scene,
  spot: SpotPlace | null,
  radiusMm: number,
): Extremes | null {
  const still = withTurnOnly(scene)
  return useParts(drawn, keyOf(radiusMm, spot, still), async (show: (found: Extremes) => void, wanted) => {
    if (drawn === null || spot === null) return
    const place: SweptPlace = { spot, radiusMm }
    const looked: Held[] = []
    for (let row = 0; row < searchRows && wanted(); row += rowsAtOnce) {
      const rows = Array.from({ length: Math.min(rowsAtOnce, searchRows - row) }, (_, i) => row + i)
      looked.push(...(await workshop.swept({ do: 'look', scene: still, place, rows })))
    }
    if (!wanted()) return
    const found = await workshop.swept({ do: 'extremes', scene: still, place, looked })
    const light = lightAs(still)
    const shown = ({ pose, XYZ }: Held): HeldLight | null => {
      const seen = light(XYZ)
      return seen === null ? null : { pose, ...seen }
    }
    const brightest = found === null ? null : shown(found.brightest)
    const darkest = found === null ? null : shown(found.darkest)
    if (wanted() && brightest !== null && darkest !== null) show({ brightest, darkest })
  })
}

/** The map's pixels around a spot. */
export function useLoupe(
  workshop: Workshop,
  drawn: Drawn | null,
  scene: Scene,
  spot: SpotPlace | null,
): LoupeView | null {
  return useParts(drawn, keyOf(spot, scene), async (show: (view: LoupeView) => void, wanted) => {
    if (drawn === null || spot === null) return
    const view = await workshop.loupe(scene, spot)
    if (view !== null && wanted()) show(view)
  })
}

/** An answer and what it answers. */
interface Kept<T> {
  readonly drawn: Drawn | null
  readonly key: string
  readonly answer: T
  /** Nothing more is to come. */
  readonly whole: boolean
}

/** Answers that are kept: going back to a spot does not ask again. */
const mostKept = 12

/** The answer to a question in parts as far as it has come; null before its first part. `key` says what is asked. */
function useParts<T>(
  drawn: Drawn | null,
  key: string,
  ask: (show: (answer: T) => void, wanted: () => boolean) => Promise<void>,
): T | null {
  const kept = useRef<readonly Kept<T>[]>([])
  const [, redraw] = useState(0)
  const asking = useRef(ask)
  asking.current = ask
  useEffect(() => {
    const isThis = (one: Kept<T>): boolean => one.drawn === drawn && one.key === key
    if (kept.current.find(isThis)?.whole) return
    let wanted = true
    const keep = (answer: T, whole: boolean): void => {
      kept.current = [
        { drawn, key, answer, whole },
        ...kept.current.filter(one => one.drawn === drawn && !isThis(one)),
      ].slice(0, mostKept)
      redraw(n => n + 1)
    }
    const timer = setTimeout(() => {
      asking
        .current(
          answer => keep(answer, false),
          () => wanted,
        )
        .then(
          () => {
            const last = kept.current.find(isThis)
            if (wanted && last !== undefined) keep(last.answer, true)
          },
          // What cannot be answered is not shown; the picture says why there is none.
          () => undefined,
        )
    }, restMs)
    return () => {
      wanted = false
      clearTimeout(timer)
    }
  }, [drawn, key])
  return kept.current.find(one => one.drawn === drawn && one.key === key)?.answer ?? null
}

function withoutAxis(scene: Scene, axis: SweepAxis): Scene {
  return withPose(scene, turnedTo(scene.view.pose, axis, 0))
}

function withTurnOnly(scene: Scene): Scene {
  return withPose(scene, { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: scene.view.pose.turnDeg })
}

/** As text: two scenes that light alike are one question. */
const keyOf = (...asked: readonly unknown[]): string => JSON.stringify(asked)

const straight: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }

const withPose = (scene: Scene, pose: PanelPose): Scene => ({ ...scene, view: { ...scene.view, pose } })

function lightAs(scene: Scene): (XYZ: XYZ | null) => SeenLight | null {
  const seen = seenAs(scene)
  return XYZ => {
    const one = seen(XYZ)
    if (one === null) return null
    const [r, g, b] = one.sRGB.map(part => Math.round(255 * part))
    return { luminance: one.XYZ[1], css: `rgb(${r} ${g} ${b})` }
  }
}
