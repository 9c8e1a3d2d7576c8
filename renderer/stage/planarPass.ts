import {
  GLSL3,
  type Mesh,
  NoBlending,
  OrthographicCamera,
  ShaderMaterial,
  type Texture,
  UnsignedByteType,
  Vector2,
  type WebGLRenderer,
  WebGLRenderTarget,
} from 'three'
import fragment from './glsl/planar.frag.glsl?raw'
import vertex from './glsl/screen.vert.glsl?raw'
import { screenTriangle } from './screenTriangle.ts'

/** Texels a row of the target; its rows follow from the picture. */
const across = 1024

/**
 * A finished picture as encoders take it: planes Y, U, V, the latter two of every four pixels (I420), made on the card.
 * Their bytes come back without a wait: the card goes on drawing meanwhile.
 */
export class PlanarPass {
  readonly #bytes: number
  readonly #target: WebGLRenderTarget
  readonly #material: ShaderMaterial
  readonly #triangle: Mesh
  readonly #camera = new OrthographicCamera()

  /** @param width of the picture, pixels */
  constructor(width: number, height: number) {
    this.#bytes = width * height + 2 * Math.ceil(width / 2) * Math.ceil(height / 2)
    this.#target = new WebGLRenderTarget(across, Math.ceil(this.#bytes / 4 / across), {
      type: UnsignedByteType,
      depthBuffer: false,
    })
    this.#material = new ShaderMaterial({
      glslVersion: GLSL3,
      vertexShader: vertex,
      fragmentShader: fragment,
      depthTest: false,
      depthWrite: false,
      blending: NoBlending,
      uniforms: {
        uPicture: { value: null },
        uSize: { value: new Vector2(width, height) },
        uAcross: { value: across },
      },
    })
    this.#triangle = screenTriangle(this.#material)
  }

  /** The planes of `picture`, code values 0..1 with its lowest row first. Another may be asked for meanwhile. */
  async planes(renderer: WebGLRenderer, picture: Texture): Promise<Uint8Array<ArrayBuffer>> {
    const { width, height } = this.#target
    this.#material.uniforms.uPicture!.value = picture
    renderer.setRenderTarget(this.#target)
    renderer.render(this.#triangle, this.#camera)
    renderer.setRenderTarget(null)
    const all = new Uint8Array(4 * width * height)
    await renderer.readRenderTargetPixelsAsync(this.#target, 0, 0, width, height, all)
    return all.subarray(0, this.#bytes)
  }

  dispose(): void {
    this.#target.dispose()
    this.#material.dispose()
    this.#triangle.geometry.dispose()
  }
}
