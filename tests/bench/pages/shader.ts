import {
  AmbientLight,
  Color,
  DataTexture,
  DirectionalLight,
  Mesh,
  MeshPhysicalMaterial,
  PerspectiveCamera,
  PlaneGeometry,
  PMREMGenerator,
  RepeatWrapping,
  RGBAFormat,
  Scene as ThreeScene,
  WebGLRenderer,
} from 'three'
import type { Job } from '../../../core/job/job.ts'
import type { MaterialMap } from '../../../core/material/map.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import type { Tables } from '../../../core/optics/tables.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { frameCamera, wholeView, type Zoom } from '../../../core/reference/camera.ts'
import { lampPosition } from '../../../core/reference/pose.ts'
import { renderTile } from '../../../core/reference/render.ts'
import { type Scene, withHandLamp } from '../../../core/reference/scene.ts'
import { type FrameLook, grids } from '../../../renderer/export/stage-frames.ts'
import { movingPace } from '../../../renderer/stage/pace.ts'
import { isSoftware } from '../../../renderer/stage/software.ts'
import { type Effort, Stage } from '../../../renderer/stage/stage.ts'
import { everyPixelLit, withThreeLamps } from '../../support/bench-scenes.ts'
import { unpackValue } from '../../support/pack-map.ts'
import { type FoldTimes, foldTimes } from './fold.ts'
import { type MovieTimes, movieTimes } from './movie.ts'

/** A frame of the shader beside one of the stock material over the same pixels under as many lamps. */
export interface ShaderFrame {
  readonly name: string
  readonly lamps: number
  readonly effort: Effort
  /** Side of the picture over that of the frame. */
  readonly side: number
  /** Our room and the stock material's environment are both there, or neither. */
  readonly room: boolean
  /** Milliseconds. */
  readonly ms: number
  /** Over the same pixels. */
  readonly stock: number
  /** Over a panel that fills the frame. */
  readonly fullStock: number
  /** Part of the frame's pixels that the panel covers, and part that an order of the lamps reaches. */
  readonly covered: number
  readonly lit: number
}

export interface ShaderTimes {
  readonly graphics: string
  readonly width: number
  readonly height: number
  readonly frames: readonly ShaderFrame[]
}

/** What a page that cannot read files is given. */
export interface BenchGift {
  readonly map: MaterialMap
  readonly scene: Scene
}

/** The demo carton, with its job. */
export interface DemoGift extends BenchGift {
  readonly job: Job
}

declare global {
  interface Window {
    /** Opened from a file on any machine: `bench()` measures and returns the times; they are shown on the page too. */
    bench: (width?: number, height?: number) => Promise<ShaderTimes>
    /** The same for the fold slider. */
    benchFold: (width?: number, height?: number) => FoldTimes
    /** And a movie of the demo's lamp path, over its encoder alone. */
    benchMovie: (
      width?: number,
      height?: number,
      frames?: number,
      grids?: readonly FrameLook['grid'][],
    ) => Promise<MovieTimes>
    /** The demo carton, packed: a {@link DemoGift}. */
    demo: string
  }
}

const renderer = new WebGLRenderer({ antialias: false, powerPreference: 'high-performance' })
renderer.setPixelRatio(1)
document.body.append(renderer.domElement)
const report = document.body.appendChild(document.createElement('pre'))

window.benchFold = (width = 1280, height = 800) => {
  const times = foldTimes(renderer, unpackValue<DemoGift>(window.demo), width, height)
  report.textContent = JSON.stringify(times, null, 2)
  return times
}

window.benchMovie = async (width = 1920, height = 1080, frames = 48, sides = grids) => {
  const times = await movieTimes(unpackValue<DemoGift>(window.demo), width, height, frames, sides)
  report.textContent = JSON.stringify(times, null, 2)
  return times
}

window.bench = async (width = 1920, height = 1080) => {
  renderer.setSize(width, height, false)
  renderer.domElement.style.width = '640px'
  const timed: { frame: Omit<ShaderFrame, 'ms' | 'stock' | 'fullStock'>; own: Timer; stock: Timer }[] = []
  const stock = new Map<string, Timer>()
  for (const { name, map, scene, fill } of benchCases(width / height)) {
    const levels = pyramid(map)
    // The square panel fills the frame's width; the carton lies on the table as the app shows it.
    const zoom = fill ? { scale: (1.13 * width) / height, x: 0, y: 0 } : wholeView
    for (const lamps of [1, 3])
      for (const room of [false, true]) {
        const light = {
          ...(lamps === 1 ? scene.light : withThreeLamps(scene.light)),
          roomLevel: room ? 0.3 : 0,
        }
        const lit = { ...scene, light }
        const tables = bakingsOf(lit, map).map(bakeTables)
        const share = shares(lit, levels, tables, zoom, width / height)
        const key = stockKey(fill, lamps, room)
        const peer = stock.get(key) ?? timer(physicalFrame(lit, map, zoom, room))
        stock.set(key, peer)
        for (const effort of ['still', 'moving'] as const) {
          // Straight to the screen a picture has no room by direction; at rest it is there.
          const stage = new Stage(renderer, room && effort === 'still' ? false : undefined)
          stage.setMap(levels)
          stage.setTables(tables)
          stage.setEffort(effort)
          stage.setZoom(zoom)
          const { pose } = light.lamps[0]
          const frame = (i: number) => {
            const moved = { ...pose, azimuthDeg: pose.azimuthDeg + (i % 9) / 10 }
            stage.setScene({ ...lit, light: withHandLamp(light, moved) })
            stage.render()
          }
          const side = effort === 'moving' ? settle(stage, frame) : 1
          timed.push({ frame: { name, lamps, effort, side, room, ...share }, own: timer(frame), stock: peer })
        }
      }
  }
  // In turns, so that whatever else the machine does falls on all alike.
  const timers = new Set(timed.flatMap(({ own, stock }) => [own, stock]))
  for (let round = 0; round < rounds; round++)
    for (const timing of timers) {
      timing.batch()
      await new Promise(done => setTimeout(done, 0))
    }
  const frames = timed.map(({ frame, own, stock: peer }) => ({
    ...frame,
    ms: own.best(),
    stock: peer.best(),
    fullStock: stock.get(stockKey(true, frame.lamps, frame.room))!.best(),
  }))
  const times = { graphics: graphicsName(), width, height, frames }
  report.textContent = JSON.stringify(times, null, 2)
  return times
}

const stockKey = (fill: boolean, lamps: number, room: boolean): string => `${fill} ${lamps} ${room}`

function benchCases(aspect: number): readonly (BenchGift & { name: string; fill: boolean })[] {
  return [
    { name: 'demo carton', ...unpackValue<DemoGift>(window.demo), fill: false },
    {
      name: 'every pixel diffracts',
      ...everyPixelLit(Math.round(1024 * Math.max(1, aspect / 2))),
      fill: true,
    },
  ]
}

/** Parts of the frame, counted on a coarse reference picture with and without its holography. */
function shares(
  scene: Scene,
  levels: readonly MaterialMap[],
  tables: readonly Tables[],
  zoom: Zoom,
  aspect: number,
) {
  const size = { width: Math.round(120 * aspect), height: 120, grid: 1, zoom }
  const tile = { top: 0, bottom: size.height }
  const dark = { ...scene, light: { ...scene.light, roomLevel: 0 } }
  const bare = levels.map(level => ({ ...level, gratings: [] }))
  const whole = renderTile(dark, levels, tables, size, tile)
  const without = renderTile(dark, bare, tables, size, tile)
  let covered = 0
  let lit = 0
  for (let i = 0; i < whole.length; i += 4) {
    if (whole[i + 3]! > 0) covered++
    if (Math.abs(whole[i + 1]! - without[i + 1]!) > 1e-3) lit++
  }
  return { covered: (4 * covered) / whole.length, lit: (4 * lit) / whole.length }
}

const rounds = 6

function graphicsName(): string {
  const gl = renderer.getContext()
  const info = gl.getExtension('WEBGL_debug_renderer_info')
  return String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER))
}

interface Timer {
  readonly batch: () => void
  /** Milliseconds a frame. */
  readonly best: () => number
}

/** Batches of frames, as many as can be measured; a pixel is read back, so that all work is done. */
const pixel = new Uint8Array(4)

/** Milliseconds a frame, over so many. */
function once(frame: (i: number) => void, frames: number): number {
  const gl = renderer.getContext()
  const start = performance.now()
  for (let i = 0; i < frames; i++) frame(i)
  gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel)
  return (performance.now() - start) / frames
}

function timer(frame: (i: number) => void): Timer {
  const run = (frames: number) => once(frame, frames)
  run(2)
  const frames = Math.max(2, Math.min(200, Math.ceil(200 / run(2))))
  let best = Number.POSITIVE_INFINITY
  return {
    batch: () => {
      best = Math.min(best, run(frames))
    },
    best: () => best,
  }
}

/** Leaves the stage's moving picture as coarse as this machine makes it; returns its side. */
function settle(stage: Stage, frame: (i: number) => void): number {
  const pace = movingPace(isSoftware(renderer))
  // The first frame compiles.
  once(frame, 2)
  for (let round = 0; round < 16; round++) {
    stage.holdMovingSide(pace.side)
    pace.took(once(frame, 3))
  }
  stage.holdMovingSide(pace.side)
  return pace.side
}

/** Stock physical material with iridescence and five textures, over the panel's own pixels. */
function physicalFrame(
  scene: Scene,
  map: MaterialMap,
  zoom: Zoom,
  environment: boolean,
): (i: number) => void {
  const world = new ThreeScene()
  if (environment) {
    const room = new ThreeScene()
    room.background = new Color(0.3, 0.3, 0.3)
    room.add(new AmbientLight())
    world.environment = new PMREMGenerator(renderer).fromScene(room).texture
  }
  const lights = scene.light.lamps.map(({ pose }) => {
    const light = new DirectionalLight(0xffffff, 3)
    light.position.set(...lampPosition(pose))
    world.add(light)
    return light
  })
  const material = new MeshPhysicalMaterial({
    map: noise(1),
    roughnessMap: noise(2),
    metalnessMap: noise(3),
    normalMap: noise(4),
    metalness: 1,
    roughness: 0.4,
    iridescence: 1,
    iridescenceThicknessMap: noise(5),
  })
  world.add(new Mesh(new PlaneGeometry(map.widthMm, map.heightMm), material))
  const { eyeDistanceMm } = scene.view
  const aspect = renderer.domElement.width / renderer.domElement.height
  const { left, right, top, bottom } = frameCamera(map, eyeDistanceMm, aspect, zoom)
  const camera = new PerspectiveCamera()
  const near = eyeDistanceMm / 100
  camera.projectionMatrix.makePerspective(
    near * left,
    near * right,
    near * top,
    near * bottom,
    near,
    10 * eyeDistanceMm,
  )
  camera.projectionMatrixInverse.copy(camera.projectionMatrix).invert()
  camera.position.z = eyeDistanceMm
  camera.updateMatrixWorld()
  return i => {
    lights[0]!.position.x += i % 2 === 0 ? 1 : -1
    renderer.setRenderTarget(null)
    renderer.render(world, camera)
  }
}

/** A texture of fixed scatter; no chance, so that every run is the same. */
function noise(seed: number): DataTexture {
  const side = 512
  const data = new Uint8Array(side * side * 4)
  let state = seed * 2654435761
  for (let i = 0; i < data.length; i++) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    data[i] = 96 + (state >>> 26)
  }
  const texture = new DataTexture(data, side, side, RGBAFormat)
  texture.wrapS = RepeatWrapping
  texture.wrapT = RepeatWrapping
  texture.generateMipmaps = true
  texture.needsUpdate = true
  return texture
}
