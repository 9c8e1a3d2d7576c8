import { judgedRate } from '../../core/job/flash-path.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { pyramid } from '../../core/material/mip.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { frameCamera, wholeView } from '../../core/reference/camera.ts'
import { FlashMeter } from '../../core/reference/flash.ts'
import { flashPicture } from '../../core/reference/flash-picture.ts'
import { standIn, toTable } from '../../core/reference/pose.ts'
import { renderTile } from '../../core/reference/render.ts'
import { type PanelPose, type Scene, withHandLamp } from '../../core/reference/scene.ts'
import { areaPlaces, type Place, Sweeper } from '../../core/reference/sweep.ts'
import { polarPose, polarReachDeg, sweepRange, turnedTo } from '../../core/reference/sweep-poses.ts'
import { benchScenes } from '../support/bench-scenes.ts'
import type { BenchResult, BenchRow } from './bench.ts'

const size = 256
const runs = 3
const place: Place = { xMm: 50, yMm: 45 }
const areaMm = 3
const straight: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }

/**
 * The probe's sums on one core, in processor time: how a place shines as the panel is tilted and turned, against the
 * pictures of a pixel that show the same, one after the other; and the flash meter over a run of the lamp.
 */
export async function run(): Promise<BenchResult> {
  const { map, scene } = benchScenes(size)[1]!
  const levels = pyramid(map)
  const sets = bakingsOf(scene, map).map(bakeTables)
  const views: readonly (readonly [string, readonly PanelPose[]])[] = [
    ['tilt and turn', [...swept('forward', 0.5), ...swept('side', 0.5), ...swept('turn', 1)]],
    ['polar map', polar()],
  ]
  const areas: readonly (readonly [string, readonly Place[]])[] = [
    ['a spot', [place]],
    [`an area of ${2 * areaMm} mm`, areaPlaces(place, areaMm)],
  ]
  const rows = views.flatMap(([what, poses]) =>
    areas.flatMap(([where, places]) =>
      compared(`${what}, ${where}`, { scene, map, levels, sets }, poses, places),
    ),
  )
  return {
    title: `the probe's sums, one core, ${size} × ${size} map`,
    rows: [...rows, flashRow(scene, levels, sets)],
  }
}

interface Ground {
  readonly scene: Scene
  readonly map: MaterialMap
  readonly levels: readonly MaterialMap[]
  readonly sets: readonly Tables[]
}

/** Time of the sweep, and of the pictures over it. */
function compared(
  name: string,
  ground: Ground,
  poses: readonly PanelPose[],
  places: readonly Place[],
): readonly BenchRow[] {
  const sweeper = new Sweeper(ground.scene, ground.map, ground.sets, places)
  const own = best(() => {
    for (const pose of poses) sweeper.at(pose)
  })
  // One pose in ten is enough for pictures.
  const some = poses.filter((_, i) => i % 10 === 0)
  const pictures = best(() => {
    for (const pose of some) for (const one of places) pixelPicture(ground, pose, one)
  })
  const peer = (pictures * poses.length) / some.length
  return [
    { name: `${name}, ${poses.length} views`, value: 1000 * own, unit: 'ms', aim: null },
    { name: `${name}, over a picture of each`, value: own / peer, unit: 'x', aim: 1 },
  ]
}

/** A picture of one pixel that looks at the place. */
function pixelPicture(
  { scene, map, levels, sets }: Ground,
  pose: PanelPose,
  { xMm, yMm }: Place,
): Float32Array {
  const held: Scene = { ...scene, view: { ...scene.view, pose } }
  const { eyeDistanceMm } = held.view
  const [x, y, z] = toTable(standIn(held).view, [xMm - map.widthMm / 2, yMm - map.heightMm / 2, 0])
  const { top } = frameCamera(map, eyeDistanceMm, 1, wholeView)
  const depth = eyeDistanceMm - z
  const zoom = { scale: size, x: x / depth / top, y: y / depth / top }
  return renderTile(held, levels, sets, { width: 1, height: 1, grid: 1, zoom }, { top: 0, bottom: 1 })
}

function swept(axis: keyof typeof sweepRange, stepDeg: number): readonly PanelPose[] {
  const [from, to] = sweepRange[axis]
  return Array.from({ length: Math.floor((to - from) / stepDeg) + 1 }, (_, i) =>
    turnedTo(straight, axis, from + i * stepDeg),
  )
}

/** Every 3° of tilt and 5° around. */
function polar(): readonly PanelPose[] {
  return Array.from({ length: polarReachDeg / 3 + 1 }, (_, i) => 3 * i).flatMap(tilt =>
    Array.from({ length: 72 }, (_, i) => polarPose(straight, 'lean', tilt, 5 * i)),
  )
}

/** Seconds of a run, in which the lamp goes half around, that are judged in a second. */
function flashRow(scene: Scene, levels: readonly MaterialMap[], sets: readonly Tables[]): BenchRow {
  const runS = 3
  const { pose } = scene.light.lamps[0]
  const frames = runS * judgedRate
  const took = best(() => {
    const meter = new FlashMeter()
    for (let i = 0; i <= frames; i++) {
      const lamp = { ...pose, azimuthDeg: pose.azimuthDeg + (180 * i) / frames }
      const moved = { ...scene, light: withHandLamp(scene.light, lamp) }
      meter.add(i / judgedRate, flashPicture(moved, levels, sets))
    }
  })
  return { name: 'flash meter, time over that of the run', value: took / runS, unit: 'x', aim: 1 }
}

function best(once: () => void): number {
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < runs; i++) {
    const start = process.cpuUsage()
    once()
    const { user, system } = process.cpuUsage(start)
    least = Math.min(least, (user + system) / 1e6)
  }
  return least
}
