import {
  AddEquation,
  Color,
  CustomBlending,
  FloatType,
  HalfFloatType,
  type Material,
  NearestFilter,
  NoBlending,
  OneFactor,
  RGBAFormat,
  type Texture,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three'

/**
 * Linear light, summed over samples: X, Y, Z and the number of samples that met the panel.
 * 32-bit floats where the graphics card can add to them, else 16-bit ones (a relative step of 5e-4).
 */
export class SumTarget {
  readonly #renderer: WebGLRenderer
  readonly #target: WebGLRenderTarget
  readonly #clearColor = new Color()

  constructor(renderer: WebGLRenderer) {
    this.#renderer = renderer
    const full = this.enable()
    this.#target = new WebGLRenderTarget(1, 1, {
      format: RGBAFormat,
      type: full ? FloatType : HalfFloatType,
      minFilter: NearestFilter,
      magFilter: NearestFilter,
      depthBuffer: true,
      stencilBuffer: true,
    })
  }

  /** Asks a new or restored context for what adding floats needs; returns whether it has it. */
  enable(): boolean {
    const { extensions } = this.#renderer
    return extensions.has('EXT_color_buffer_float') && extensions.has('EXT_float_blend')
  }

  get texture(): Texture {
    return this.#target.texture
  }

  get width(): number {
    return this.#target.width
  }

  get height(): number {
    return this.#target.height
  }

  /** Returns whether the size is another than before; the sum is lost then. */
  setSize(width: number, height: number): boolean {
    if (width === this.#target.width && height === this.#target.height) return false
    this.#target.setSize(width, height)
    return true
  }

  /** Makes this the target of the next drawing, whose materials write the first sample or add one. */
  begin(first: boolean, materials: readonly Material[]): void {
    this.#renderer.setRenderTarget(this.#target)
    if (first) this.clear()
    for (const material of materials) {
      material.blending = first ? NoBlending : CustomBlending
      material.blendEquation = AddEquation
      material.blendSrc = OneFactor
      material.blendDst = OneFactor
    }
  }

  clear(): void {
    const renderer = this.#renderer
    renderer.getClearColor(this.#clearColor)
    const alpha = renderer.getClearAlpha()
    renderer.setRenderTarget(this.#target)
    renderer.setClearColor(0, 0)
    renderer.clear(true, false, false)
    renderer.setClearColor(this.#clearColor, alpha)
  }

  dispose(): void {
    this.#target.dispose()
  }
}
