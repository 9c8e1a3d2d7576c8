import {
  LinearSRGBColorSpace,
  NoToneMapping,
  UnsignedByteType,
  WebGLRenderer,
  WebGLRenderTarget,
} from 'three'
import type { Motions } from '../../core/checks/register/groups.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Tables } from '../../core/optics/tables.ts'
import type { Background } from '../../core/reference/display-picture.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { PlanarPass } from '../stage/planarPass.ts'
import { Stage } from '../stage/stage.ts'

/** What pictures are drawn from, as the window has it: the map with its coarser levels, tables, groups of plates. */
export interface DrawnFrom {
  readonly levels: readonly MaterialMap[]
  readonly tables: readonly Tables[]
  readonly motions: Motions
}

/** Samples a pixel along each side that the stage can take. */
export const grids = [1, 2, 4] as const

export interface FrameLook {
  /** Pixels. */
  readonly width: number
  readonly height: number
  readonly grid: (typeof grids)[number]
  readonly background: Background
}

/**
 * Finished pictures of scenes, drawn by the graphics card on a canvas of their own: no window shows it, its size is the
 * picture's, and what the table shows goes on undisturbed. To be closed, which gives the card's memory back.
 */
export class StageFrames {
  readonly canvas: HTMLCanvasElement
  readonly #renderer: WebGLRenderer
  readonly #stage: Stage
  readonly #look: FrameLook
  #target: WebGLRenderTarget | null = null
  #planar: PlanarPass | null = null

  /** Throws Error where there is no WebGL 2, or where the graphics card cannot draw as large. */
  constructor({ levels, tables, motions }: DrawnFrom, look: FrameLook) {
    this.#look = look
    this.canvas = document.createElement('canvas')
    this.#renderer = new WebGLRenderer({
      canvas: this.canvas,
      powerPreference: 'high-performance',
      antialias: false,
      alpha: false,
      stencil: false,
      depth: true,
      // A frame may be taken in a later turn than it was drawn in.
      preserveDrawingBuffer: true,
    })
    const most = this.#renderer.capabilities.maxTextureSize
    if (Math.max(look.width, look.height) > most) {
      this.#renderer.dispose()
      this.#renderer.forceContextLoss()
      throw new Error(`This graphics card draws at most ${most} pixels a side. Choose a smaller picture.`)
    }
    // The stage writes code values itself.
    this.#renderer.outputColorSpace = LinearSRGBColorSpace
    this.#renderer.toneMapping = NoToneMapping
    this.#renderer.setPixelRatio(1)
    this.#renderer.setSize(look.width, look.height, false)
    // Never straight to the screen: there the room is only its mean.
    this.#stage = new Stage(this.#renderer, false, look.grid)
    this.#stage.setMap(levels)
    this.#stage.setTables(tables)
    this.#stage.setMotions(motions)
    this.#stage.setBackground(look.background)
  }

  /** Name of what draws. */
  get graphics(): string {
    const gl = this.#renderer.getContext()
    const info = gl.getExtension('WEBGL_debug_renderer_info')
    return String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER))
  }

  /** Draws a scene on the canvas. */
  draw(scene: Scene): void {
    this.#renderer.setRenderTarget(null)
    this.#render(scene)
  }

  /** Draws a scene and gives its screen values: RGBA, 8 bits, top row first, colour not multiplied by alpha. */
  read(scene: Scene): Uint8Array<ArrayBuffer> {
    const { width, height } = this.#look
    const target = this.#drawAside(scene)
    const upsideDown = new Uint8Array(width * height * 4)
    this.#renderer.readRenderTargetPixels(target, 0, 0, width, height, upsideDown)
    const out = new Uint8Array(upsideDown.length)
    const row = 4 * width
    for (let y = 0; y < height; y++)
      out.set(upsideDown.subarray((height - 1 - y) * row, (height - y) * row), y * row)
    return out
  }

  /**
   * Draws a scene and gives its planes Y, U, V (I420, BT.709, narrow range) once the card has them; it goes on with the
   * next scene meanwhile.
   */
  planes(scene: Scene): Promise<Uint8Array<ArrayBuffer>> {
    const { texture } = this.#drawAside(scene)
    this.#planar ??= new PlanarPass(this.#look.width, this.#look.height)
    return this.#planar.planes(this.#renderer, texture)
  }

  close(): void {
    this.#stage.dispose()
    this.#target?.dispose()
    this.#planar?.dispose()
    this.#renderer.dispose()
    this.#renderer.forceContextLoss()
  }

  #drawAside(scene: Scene): WebGLRenderTarget {
    const { width, height } = this.#look
    this.#target ??= new WebGLRenderTarget(width, height, { type: UnsignedByteType, depthBuffer: true })
    this.#renderer.setRenderTarget(this.#target)
    this.#render(scene)
    this.#renderer.setRenderTarget(null)
    return this.#target
  }

  #render(scene: Scene): void {
    this.#stage.setScene(scene)
    this.#stage.renderWhole()
    if (this.#renderer.getContext().isContextLost())
      throw new Error(
        'The graphics card let go of the picture. Try again, with a smaller picture if it happens again.',
      )
  }
}
