import {
  type DataTexture,
  FloatType,
  GLSL3,
  Mesh,
  NearestFilter,
  OrthographicCamera,
  PlaneGeometry,
  RGBAFormat,
  Scene,
  ShaderMaterial,
  WebGLRenderer,
  WebGLRenderTarget,
} from 'three'
import { pyramid } from '../../core/material/mip.ts'
import type { Table } from '../../core/optics/coordinate.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { Stage } from '../../renderer/stage/stage.ts'
import { tableTexture } from '../../renderer/stage/tableTextures.ts'
import { floatsToBase64, unpackJson } from '../support/base64.ts'
import { parityCases } from './scenes.ts'

/** What the specification calls in the page. */
export interface ParityPage {
  /** The graphics backend's own name. */
  backend(): string
  /** A table after a trip through the graphics card, four channels a texel. */
  readBack(table: string): string
  /** Screen code values 0..1 of a case, RGBA floats, top row first. */
  picture(name: string, tables: string, size: number, how: Drawing): string
  /** Draws on the canvas, loses the graphics context, gets it back and draws again when told that it is needed. */
  lossAndReturn(name: string, tables: string, size: number): Promise<{ before: string; after: string }>
}

/** One sample a pixel by way of the sum, the same straight to the screen, all samples; a moving picture, or a third of its side. */
export type Drawing = 'sum' | 'direct' | 'fine' | 'moving' | 'coarse'

declare global {
  interface Window {
    parity: ParityPage
  }
}

const renderer = new WebGLRenderer({ antialias: false })
document.body.append(renderer.domElement)

const floatTarget = (width: number, height: number) =>
  new WebGLRenderTarget(width, height, {
    format: RGBAFormat,
    type: FloatType,
    minFilter: NearestFilter,
    magFilter: NearestFilter,
    depthBuffer: false,
  })

/** Pixels of a float target, top row first. */
function read(target: WebGLRenderTarget, flip: boolean): Float32Array {
  const { width, height } = target
  const pixels = new Float32Array(width * height * 4)
  renderer.readRenderTargetPixels(target, 0, 0, width, height, pixels)
  if (!flip) return pixels
  const out = new Float32Array(pixels.length)
  for (let y = 0; y < height; y++)
    out.set(pixels.subarray((height - 1 - y) * width * 4, (height - y) * width * 4), y * width * 4)
  return out
}

window.parity = {
  backend() {
    const gl = renderer.getContext()
    const info = gl.getExtension('WEBGL_debug_renderer_info')
    return String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER))
  },

  readBack(text) {
    const table = unpackJson<Table>(text)
    const target = floatTarget(table.width, table.height)
    const material = new ShaderMaterial({
      glslVersion: GLSL3,
      vertexShader: 'void main() { gl_Position = vec4(position.xy * 2.0, 0.0, 1.0); }',
      fragmentShader:
        'uniform highp sampler2D uTable; out vec4 outTexel;' +
        'void main() { outTexel = texelFetch(uTable, ivec2(gl_FragCoord.xy), 0); }',
      uniforms: { uTable: { value: tableTexture(table) as DataTexture } },
    })
    const scene = new Scene().add(new Mesh(new PlaneGeometry(1, 1), material))
    renderer.setRenderTarget(target)
    renderer.render(scene, new OrthographicCamera())
    renderer.setRenderTarget(null)
    return floatsToBase64(read(target, false))
  },

  picture(name, tables, size, how) {
    const stage = stageOf(name, tables, size, how === 'direct')
    const target = floatTarget(size, size)
    if (how === 'moving' || how === 'coarse') {
      stage.setEffort('moving')
      stage.holdMovingSide(how === 'coarse' ? 1 / 3 : 1)
    }
    renderer.setRenderTarget(target)
    let more = stage.render()
    while (how === 'fine' && more) more = stage.render()
    renderer.setRenderTarget(null)
    const codes = read(target, true)
    stage.dispose()
    target.dispose()
    return floatsToBase64(codes)
  },

  async lossAndReturn(name, tables, size) {
    const stage = stageOf(name, tables, size)
    const canvas = renderer.domElement
    // The canvas is read in the same turn, before the browser takes its pixels away.
    const draw = () => {
      stage.render()
      return canvas.toDataURL()
    }
    const before = draw()
    const extension = renderer.getContext().getExtension('WEBGL_lose_context')
    const lost = new Promise(done => canvas.addEventListener('webglcontextlost', done, { once: true }))
    const stale = new Promise<void>(done => {
      stage.onStale = done
    })
    extension?.loseContext()
    await lost
    stage.render()
    await new Promise(done => setTimeout(done, 50))
    extension?.restoreContext()
    await stale
    const after = draw()
    stage.dispose()
    return { before, after }
  },
}

function stageOf(name: string, tables: string, size: number, direct = false): Stage {
  const found = parityCases().find(c => c.name === name)
  if (found === undefined) throw new RangeError(`no case "${name}"`)
  renderer.setPixelRatio(1)
  renderer.setSize(size, size)
  const stage = new Stage(renderer, direct, 4)
  stage.setMap(pyramid(found.map))
  stage.setTables(unpackJson<readonly Tables[]>(tables))
  stage.setScene(found.scene)
  if (found.motions !== undefined) stage.setMotions(found.motions)
  return stage
}
