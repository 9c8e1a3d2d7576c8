import { LinearSRGBColorSpace, NoToneMapping, WebGLRenderer } from 'three'
import { Stage } from './stage.ts'

/** Pixels of the canvas a CSS pixel: as the screen has them, at most this. */
const mostPixelRatio = 2

/** A stage on a canvas of its own: it is drawn when something changed, and until the picture no longer becomes finer. */
export class StageCanvas {
  readonly stage: Stage
  /** Called when a picture was drawn; `fine`: the stage has no finer one. */
  onDrawn: ((fine: boolean) => void) | null = null
  readonly #renderer: WebGLRenderer
  readonly #heard = new AbortController()
  #frame = 0

  /**
   * Throws when the browser gives no WebGL 2.
   * @param onLost the graphics card has let go of the picture, or has it back and draws it again
   */
  constructor(canvas: HTMLCanvasElement, onLost: (lost: boolean) => void) {
    this.#renderer = new WebGLRenderer({
      canvas,
      powerPreference: 'high-performance',
      antialias: false,
      alpha: false,
      stencil: false,
      depth: true,
    })
    // The stage writes code values itself.
    this.#renderer.outputColorSpace = LinearSRGBColorSpace
    this.#renderer.toneMapping = NoToneMapping
    this.stage = new Stage(this.#renderer)
    this.stage.onStale = () => this.ask()
    const { signal } = this.#heard
    canvas.addEventListener('webglcontextlost', () => onLost(true), { signal })
    canvas.addEventListener('webglcontextrestored', () => onLost(false), { signal })
  }

  /** Pixels of the canvas a CSS pixel. */
  get pixelRatio(): number {
    return this.#renderer.getPixelRatio()
  }

  /** Size of the canvas, CSS pixels. */
  setSize(width: number, height: number): void {
    this.#renderer.setPixelRatio(Math.min(mostPixelRatio, Math.max(1, devicePixelRatio)))
    // The style sheet gives the canvas its size on the page.
    this.#renderer.setSize(width, height, false)
    this.ask()
  }

  /** The codes that the stage writes are those of a gamut. */
  setGamut(gamut: PredefinedColorSpace): void {
    this.#renderer.getContext().drawingBufferColorSpace = gamut
  }

  /** Something changed: the next frame draws it. */
  ask(): void {
    if (this.#frame !== 0) return
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0
      const more = this.stage.render()
      if (more) this.ask()
      this.onDrawn?.(!more)
    })
  }

  /** Gives the graphics card's memory back; the canvas cannot be used again. */
  close(): void {
    cancelAnimationFrame(this.#frame)
    this.#heard.abort()
    this.stage.onStale = null
    this.onDrawn = null
    this.stage.dispose()
    this.#renderer.dispose()
    this.#renderer.forceContextLoss()
  }
}
