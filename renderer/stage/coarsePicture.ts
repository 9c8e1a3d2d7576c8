import {
  GLSL3,
  LinearFilter,
  NoBlending,
  OrthographicCamera,
  ShaderMaterial,
  Vector2,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three'
import fragment from './glsl/copy.frag.glsl?raw'
import vertex from './glsl/screen.vert.glsl?raw'
import { screenTriangle } from './screenTriangle.ts'

/**
 * A picture of screen values with fewer pixels than the canvas, then spread over it: what turns light into colour is
 * done once for each of its pixels, not for each of the canvas.
 */
export class CoarsePicture {
  readonly #target = new WebGLRenderTarget(1, 1, {
    minFilter: LinearFilter,
    magFilter: LinearFilter,
    depthBuffer: false,
  })
  readonly #material = new ShaderMaterial({
    glslVersion: GLSL3,
    vertexShader: vertex,
    fragmentShader: fragment,
    depthTest: false,
    depthWrite: false,
    blending: NoBlending,
    uniforms: { uPicture: { value: this.#target.texture }, uScale: { value: new Vector2() } },
  })
  readonly #triangle = screenTriangle(this.#material)
  readonly #camera = new OrthographicCamera()

  /** Where the picture is to be drawn, in so many pixels. */
  begin(width: number, height: number): WebGLRenderTarget {
    this.#target.setSize(width, height)
    return this.#target
  }

  /** Spreads the picture over the whole of the current render target, `width` × `height` pixels. */
  spread(renderer: WebGLRenderer, width: number, height: number): void {
    ;(this.#material.uniforms.uScale!.value as Vector2).set(1 / width, 1 / height)
    renderer.render(this.#triangle, this.#camera)
  }

  dispose(): void {
    this.#target.dispose()
    this.#material.dispose()
    this.#triangle.geometry.dispose()
  }
}
