import {
  GLSL3,
  Matrix3 as GlMatrix3,
  NoBlending,
  OrthographicCamera,
  ShaderMaterial,
  type Texture,
  Vector2,
  Vector3,
  Vector4,
  type WebGLRenderer,
} from 'three'
import { displayTransform } from '../../core/color/display.ts'
import { conesToLuminance, gamutSlack, gamutSteps } from '../../core/color/gamut.ts'
import type { Matrix3 } from '../../core/color/matrix.ts'
import { oklabToRoots, rootsToOklab } from '../../core/color/oklab.ts'
import { overBands, purenessSlack } from '../../core/color/over-screen.ts'
import { curve } from '../../core/color/rgb.ts'
import { ceiling, judgedWeights, knee } from '../../core/color/tone.ts'
import type { XYZ } from '../../core/color/xyz.ts'
import { type Background, surround } from '../../core/reference/display-picture.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { float } from './defines.ts'
import fragment from './glsl/display.frag.glsl?raw'
import display from './glsl/display.glsl?raw'
import vertex from './glsl/screen.vert.glsl?raw'
import { screenTriangle } from './screenTriangle.ts'

/** What the light-to-screen part of a shader is compiled with. */
export const displayDefines: Readonly<Record<string, string | number>> = {
  KNEE: float(knee),
  CEILING: float(ceiling),
  JUDGED_RED: float(judgedWeights[0]),
  JUDGED_GREEN: float(judgedWeights[1]),
  GAMUT_STEPS: gamutSteps,
  GAMUT_SLACK: float(gamutSlack),
  PURENESS_SLACK: float(purenessSlack),
  SECOND_BAND: float(overBands[1]),
  THIRD_BAND: float(overBands[2]),
  FOURTH_BAND: float(overBands[3]),
  CURVE_SLOPE: float(curve.slope),
  CURVE_TOE: float(curve.toe),
  CURVE_OFFSET: float(curve.offset),
  CURVE_GAMMA: float(curve.gamma),
}

/** Turns the sum of light into screen values, over the whole target. */
export class DisplayPass {
  /** How light becomes screen values; another shader that does so shares them. */
  readonly uniforms = {
    uOverlay: { value: 0 },
    uToJudged: { value: new GlMatrix3() },
    uToRgb: { value: new GlMatrix3() },
    uToCones: { value: new GlMatrix3() },
    uConesToRgb: { value: new GlMatrix3() },
    uRootsToOklab: { value: new GlMatrix3().set(...rootsToOklab) },
    uOklabToRoots: { value: new GlMatrix3().set(...oklabToRoots) },
    uConesToLuminance: { value: new Vector3(...conesToLuminance) },
  }
  readonly #material = new ShaderMaterial({
    glslVersion: GLSL3,
    vertexShader: vertex,
    fragmentShader: [display, fragment].join('\n'),
    depthTest: false,
    depthWrite: false,
    blending: NoBlending,
    defines: { ...displayDefines },
    uniforms: {
      uSum: { value: null },
      uTaken: { value: 1 },
      uScale: { value: new Vector2() },
      uAround: { value: aroundOf(surround) },
      ...this.uniforms,
    },
  })
  readonly #triangle = screenTriangle(this.#material)
  readonly #camera = new OrthographicCamera()

  setView(view: Scene['view'], lampWhite: XYZ, lux: number): void {
    const transform = displayTransform(view, lampWhite, lux)
    this.#setMatrix('uToJudged', transform.toJudged)
    this.#setMatrix('uToRgb', transform.toRgb)
    this.#setMatrix('uToCones', transform.toCones)
    this.#setMatrix('uConesToRgb', transform.conesToRgb)
  }

  setBackground(background: Background): void {
    this.#material.uniforms.uAround!.value = aroundOf(background)
  }

  /**
   * Marks what the screen cannot show by hatching that stands still on it.
   * @param pixels of the target a CSS pixel; 0 takes the marks away
   */
  setOverlay(pixels: number): void {
    this.uniforms.uOverlay.value = pixels
  }

  get hatched(): boolean {
    return this.uniforms.uOverlay.value > 0
  }

  /**
   * Draws over the whole of the current render target, `width` × `height` pixels.
   * @param taken samples of every pixel in `sum`
   */
  render(renderer: WebGLRenderer, sum: Texture, taken: number, width: number, height: number): void {
    const { uniforms } = this.#material
    uniforms.uSum!.value = sum
    uniforms.uTaken!.value = taken
    ;(uniforms.uScale!.value as Vector2).set(1 / width, 1 / height)
    renderer.render(this.#triangle, this.#camera)
  }

  dispose(): void {
    this.#material.dispose()
    this.#triangle.geometry.dispose()
  }

  #setMatrix(name: 'uToJudged' | 'uToRgb' | 'uToCones' | 'uConesToRgb', matrix: Matrix3): void {
    this.uniforms[name].value.set(...matrix)
  }
}

/** Red, green, blue and alpha, all 0 where there is no background. */
export const aroundOf = (background: Background): Vector4 =>
  background === 'transparent' ? new Vector4(0, 0, 0, 0) : new Vector4(...background, 1)
