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
  Scene,
  WebGLRenderer,
} from 'three'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { withHandLamp } from '../../../core/reference/scene.ts'
import { type Effort, Stage } from '../../../renderer/stage/stage.ts'
import { benchScenes } from '../../support/bench-scenes.ts'

/** Milliseconds a frame. */
export interface ShaderTimes {
  readonly graphics: string
  readonly width: number
  readonly height: number
  /** Stock physical material with iridescence, five textures, an environment and one light. */
  readonly physical: number
  /** The diffractive shader, light and screen pass, for each scene: as it rests and as it moves under the hand. */
  readonly frames: readonly { readonly name: string; readonly effort: Effort; readonly ms: number }[]
}

declare global {
  interface Window {
    /** Opened from a file on any machine: `bench()` measures and returns the times; they are shown on the page too. */
    bench: (width?: number, height?: number) => Promise<ShaderTimes>
  }
}

const renderer = new WebGLRenderer({ antialias: false, powerPreference: 'high-performance' })
renderer.setPixelRatio(1)
document.body.append(renderer.domElement)
const report = document.body.appendChild(document.createElement('pre'))

window.bench = async (width = 1920, height = 1080) => {
  renderer.setSize(width, height, false)
  renderer.domElement.style.width = '640px'
  const timed = [timer(physicalFrame())]
  const named: { name: string; effort: Effort }[] = []
  for (const { name, map, scene } of benchScenes(1024)) {
    const levels = pyramid(map)
    const tables = bakingsOf(scene, map).map(bakeTables)
    for (const effort of ['still', 'moving'] as const) {
      const stage = new Stage(renderer)
      stage.setMap(levels)
      stage.setTables(tables)
      stage.setEffort(effort)
      // The square panel fills the frame's width, so that every pixel is shaded.
      stage.setZoom({ scale: (1.13 * width) / height, x: 0, y: 0 })
      const lamp = scene.light.lamps[0].pose
      named.push({ name, effort })
      timed.push(
        timer(i => {
          const moved = { ...lamp, azimuthDeg: lamp.azimuthDeg + (i % 9) / 10 }
          stage.setScene({ ...scene, light: withHandLamp(scene.light, moved) })
          stage.render()
        }),
      )
    }
  }
  // In turns, so that whatever else the machine does falls on all alike.
  for (let round = 0; round < rounds; round++)
    for (const timing of timed) {
      timing.batch()
      await new Promise(done => setTimeout(done, 0))
    }
  const [physical, ...rest] = timed.map(timing => timing.best())
  const frames = named.map((frame, i) => ({ ...frame, ms: rest[i]! }))
  const times = { graphics: graphicsName(), width, height, physical: physical!, frames }
  report.textContent = JSON.stringify(times, null, 2)
  return times
}

const rounds = 6

function graphicsName(): string {
  const gl = renderer.getContext()
  const info = gl.getExtension('WEBGL_debug_renderer_info')
  return String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER))
}

/** Batches of frames, as many as can be measured; a pixel is read back, so that all work is done. */
function timer(frame: (i: number) => void) {
  const pixel = new Uint8Array(4)
  const gl = renderer.getContext()
  const run = (frames: number) => {
    const start = performance.now()
    for (let i = 0; i < frames; i++) frame(i)
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel)
    return (performance.now() - start) / frames
  }
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

function physicalFrame(): (i: number) => void {
  const world = new Scene()
  const room = new Scene()
  room.background = new Color(0.3, 0.3, 0.3)
  room.add(new AmbientLight())
  world.environment = new PMREMGenerator(renderer).fromScene(room).texture
  const light = new DirectionalLight(0xffffff, 3)
  world.add(light)
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
  world.add(new Mesh(new PlaneGeometry(80, 80), material))
  const camera = new PerspectiveCamera(2, renderer.domElement.width / renderer.domElement.height, 10, 1000)
  camera.position.z = 400
  camera.updateMatrixWorld()
  return i => {
    light.position.set(200 + (i % 9), 100, 300)
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
