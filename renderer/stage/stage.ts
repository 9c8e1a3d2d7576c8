import {
  Color,
  type Material,
  Matrix4,
  PerspectiveCamera,
  Vector2,
  type WebGLRenderer,
  type WebGLRenderTarget,
} from 'three'
import { isStill, type Motions, onCut } from '../../core/checks/register/groups.ts'
import type { Gamut } from '../../core/color/rgb.ts'
import type { FirstLook } from '../../core/material/first-look.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { sceneWhite } from '../../core/reference/baking.ts'
import { type Camera, frameCamera, pixelSteps, wholeView, type Zoom } from '../../core/reference/camera.ts'
import { type Background, surround } from '../../core/reference/display-picture.ts'
import { lightOf } from '../../core/reference/light.ts'
import { groundOf, layOf, reachOf } from '../../core/reference/overlay-lay.ts'
import { fromLeaf, standIn } from '../../core/reference/pose.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { totalLux } from '../../core/reference/scene.ts'
import { flatSolid } from '../../core/reference/solid.ts'
import { CoarsePicture } from './coarsePicture.ts'
import { aroundOf, DisplayPass } from './displayPass.ts'
import { placeEye } from './eye.ts'
import { FrameTimer } from './frameTimer.ts'
import { Leaves } from './leaves.ts'
import { omittedFrom } from './mapTextures.ts'
import { PanelMaterial } from './material.ts'
import { movingPace, type Pace } from './pace.ts'
import { partUpload } from './partUpload.ts'
import { isSoftware } from './software.ts'
import { SumTarget } from './sumTarget.ts'

/** `moving`: fewer pixels and samples, for the hand; `still`: the exact picture, then finer and finer edges. */
export type Effort = 'moving' | 'still'

/**
 * The panel or the carton under the lamp, drawn over the whole canvas of a renderer that somebody else owns. Knows no React and no
 * clock but that of its own frames: the owner calls {@link render} whenever something was set, and again as long as it
 * returns true.
 * Works as follows: the leaves' meshes write linear light into a float target, sample after sample; a last pass over
 * the screen turns the mean into screen values. The first sample may go to the screen at once.
 */
export class Stage {
  /** The eye. Things drawn over the picture with it fall in place. */
  readonly camera = new PerspectiveCamera()
  /** Called when the picture must be drawn again for a reason of the stage's own: the graphics context came back. */
  onStale: (() => void) | null = null

  readonly #renderer: WebGLRenderer
  readonly #leaves = new Leaves()
  readonly #display = new DisplayPass()
  readonly #coarse = new CoarsePicture()
  readonly #material = new PanelMaterial(this.#display)
  readonly #sum: SumTarget
  readonly #size = new Vector2()
  readonly #clearColor = new Color()
  readonly #pace: Pace
  #heldSide: number | null = null
  readonly #timer: FrameTimer
  /** Whether a picture of one sample a pixel goes straight to the screen. */
  readonly #direct: boolean
  readonly #stillGrid: number
  #pyramid: readonly MaterialMap[] | null = null
  #look: FirstLook | null = null
  #tables: readonly [Tables, ...Tables[]] | null = null
  /** The list that the tables came in. */
  #given: readonly Tables[] | null = null
  #motions: Motions = {}
  #scene: Scene | null = null
  #zoom: Zoom = wholeView
  #background: Background = surround
  #frame: Camera = frameCamera({ widthMm: 1, heightMm: 1 }, 1, 1)
  #effort: Effort = 'still'
  /** Samples in the sum; 0 when the picture must start anew. */
  #taken = 0
  /** Samples along each side of a pixel in the sum under way. */
  #grid = 1

  /**
   * @param direct a graphics card gains by it; on a processor a second program would only take time to compile
   * @param stillGrid samples along each side of a pixel at rest, 1 or even; a processor would draw at sixteen a pixel for long
   */
  constructor(
    renderer: WebGLRenderer,
    direct = !isSoftware(renderer),
    stillGrid = isSoftware(renderer) ? 2 : 4,
  ) {
    this.#renderer = renderer
    this.#sum = new SumTarget(renderer)
    this.#pace = movingPace(isSoftware(renderer))
    this.#timer = new FrameTimer(renderer.getContext() as WebGL2RenderingContext, ms => this.#pace.took(ms))
    this.#direct = direct
    this.#stillGrid = stillGrid
    renderer.domElement.addEventListener('webglcontextrestored', this.#restored)
  }

  /** @param pyramid the map, then each level half the size of the one before; null shows the bare surround */
  setMap(pyramid: readonly MaterialMap[] | null): void {
    if (pyramid === this.#pyramid) return
    this.#pyramid = pyramid
    this.#look = null
    this.#material.setMap(pyramid, this.#renderer.capabilities.maxTextureSize, partUpload(this.#renderer))
    this.#restart()
  }

  /** Shows the first look of an edit over the map until the next map, or the map alone. */
  setLook(look: FirstLook | null): void {
    if (look === this.#look) return
    this.#look = look
    this.#material.setLook(look, this.#renderer.capabilities.maxTextureSize, partUpload(this.#renderer))
    this.#restart()
  }

  /** Names of plates and gratings of the map that the screen leaves out, to be told; the reference picture has them. */
  get omitted(): readonly string[] {
    const map = this.#pyramid?.[0]
    return map === undefined ? [] : omittedFrom(map)
  }

  /** Tables of the scene's spectra and board and of the map's plates, as `bakingsOf` names them. */
  setTables(sets: readonly Tables[]): void {
    const [first, ...more] = sets
    if (first === undefined || sets === this.#given) return
    this.#given = sets
    this.#tables = [first, ...more]
    this.#material.setTables(this.#tables)
    this.#restart()
  }

  /** How groups of plates lie beside where they were drawn; none moved: as the map has them. */
  setMotions(motions: Motions): void {
    if (motions === this.#motions) return
    this.#motions = motions
    const moved = Object.values(motions).some(motion => !isStill(motion))
    this.#material.setGroups(moved ? onCut(motions, [0, 0]) : null)
    this.#restart()
  }

  setScene(scene: Scene): void {
    if (scene === this.#scene) return
    this.#scene = scene
    this.#restart()
  }

  setZoom(zoom: Zoom): void {
    if (zoom === this.#zoom) return
    this.#zoom = zoom
    this.#restart()
  }

  /** What lies around the object; the window's own grey until it is set. */
  setBackground(background: Background): void {
    if (background === this.#background) return
    this.#background = background
    this.#display.setBackground(background)
    this.#restart()
  }

  /**
   * Marks what the screen cannot show; the sum of light stays.
   * @param pixels of the canvas a CSS pixel; 0 takes the marks away
   */
  setOverlay(pixels: number): void {
    this.#display.setOverlay(pixels)
  }

  /** Side of a moving picture over that of the canvas; null lets it follow the time that frames take. */
  holdMovingSide(side: number | null): void {
    this.#heldSide = side
  }

  setEffort(effort: Effort): void {
    if (effort === this.#effort) return
    this.#effort = effort
    this.#material.setSampling(effort === 'moving' ? movingSampling : 1)
    this.#restart()
  }

  /** Draws the finished picture at once: all samples of every pixel. */
  renderWhole(): void {
    this.#renderer.getDrawingBufferSize(this.#size)
    this.#sum.setSize(this.#size.x, this.#size.y)
    this.#taken = 0
    this.#grid = this.#stillGrid
    for (let i = 0; i < this.#stillGrid ** 2; i++) this.render()
  }

  /** Draws; returns true when another call would make the picture finer. */
  render(): boolean {
    const renderer = this.#renderer
    renderer.getDrawingBufferSize(this.#size)
    const { x: width, y: height } = this.#size
    if (width === 0 || height === 0 || renderer.getContext().isContextLost()) return false
    const started = performance.now()
    const saved = { target: renderer.getRenderTarget(), autoClear: renderer.autoClear }
    renderer.autoClear = false
    try {
      return this.#draw(width, height, saved.target)
    } finally {
      renderer.autoClear = saved.autoClear
      renderer.setRenderTarget(saved.target)
      if (this.#effort === 'moving' && this.#heldSide === null) this.#timer.ask(started)
    }
  }

  dispose(): void {
    this.#timer.stop()
    this.#renderer.domElement.removeEventListener('webglcontextrestored', this.#restored)
    this.#display.dispose()
    this.#coarse.dispose()
    this.#sum.dispose()
    this.#material.dispose()
    this.#leaves.dispose()
  }

  readonly #restored = () => {
    this.#sum.enable()
    this.#restart()
    this.onStale?.()
  }

  #restart(): void {
    this.#taken = 0
    this.#grid = 1
  }

  #draw(width: number, height: number, target: WebGLRenderTarget | null): boolean {
    const map = this.#pyramid?.[0]
    const scene = this.#scene
    const tables = this.#tables
    if (map === undefined || scene === null || tables === null) {
      this.#sum.clear()
      this.#show(target, 1, width, height)
      return false
    }
    const scale = this.#effort === 'moving' ? (this.#heldSide ?? this.#pace.side) : 1
    if (this.#sum.setSize(Math.ceil(width * scale), Math.ceil(height * scale))) this.#restart()
    if (this.#taken === 1 && this.#grid === 1 && this.#effort === 'still') {
      this.#grid = this.#stillGrid
      this.#taken = 0
    }
    const last = this.#effort === 'still' ? this.#stillGrid ** 2 : 1
    const deep = scene.solid !== undefined
    if (this.#direct && scale === 1 && this.#grid === 1 && (!deep || this.#hasDepth(target))) {
      this.#place(map, scene)
      this.#clearDirect(target)
      this.#drawLeaves(scene, this.#material.direct, this.#material.directBoard)
      this.#taken = 1
      return this.#effort === 'still'
    }
    if (this.#taken < last) {
      const { board } = this.#material
      this.#shareRoom()
      this.#place(map, scene)
      this.#sum.begin(this.#taken === 0, [this.#material, board])
      this.#drawLeaves(scene, this.#material, board)
      this.#taken++
    }
    // Whole rounds over the quarters of a pixel are a fair picture; in between the last one stays up.
    if (this.#grid === 1 || this.#taken % 4 === 0) this.#show(target, this.#taken, width, height)
    return this.#grid === 1 ? this.#effort === 'still' : this.#taken < last
  }

  /** Four samples that lie in the quarters of a pixel share the room's strata, each time in another order. */
  #shareRoom(): void {
    const share = this.#grid === 1 ? 1 : 4
    this.#material.setRoomShare((this.#taken + (this.#taken >> 2)) % share, share)
  }

  #clearDirect(target: WebGLRenderTarget | null): void {
    const renderer = this.#renderer
    renderer.setRenderTarget(target)
    // Code values: the renderer's own clear colour would be taken as linear.
    const { x, y, z, w } = aroundOf(this.#background)
    renderer.state.buffers.color.setClear(x, y, z, w, false)
    renderer.clear(true, false, false)
    renderer.setClearColor(renderer.getClearColor(this.#clearColor), renderer.getClearAlpha())
  }

  /** Each leaf in the light as that leaf has it; where there are several, the nearest of each pixel is found first. */
  #drawLeaves(scene: Scene, print: Material, board: Material): void {
    const renderer = this.#renderer
    if (scene.solid !== undefined) {
      renderer.clear(false, true, true)
      renderer.render(this.#leaves.depths, this.camera)
    }
    const whole = standIn(scene)
    for (const { leaf, print: face, board: faces } of this.#leaves.all) {
      const standing = fromLeaf(whole, leaf)
      const { width, height } = this.#sum
      const steps = pixelSteps(this.#frame, standing.view, width * this.#grid, height * this.#grid)
      this.#material.setView(standing, steps, lightOf(scene, standing))
      if (standing.eye[2] > 0) {
        face.material = print
        renderer.render(face, this.camera)
      }
      if (leaf.caliperMm === 0) continue
      faces.material = board
      renderer.render(faces, this.camera)
    }
  }

  /** Whether depths can be kept where the picture goes. */
  #hasDepth(target: WebGLRenderTarget | null): boolean {
    return target?.depthBuffer ?? this.#renderer.getContextAttributes()?.depth === true
  }

  /** Puts eye, leaves and lamp where the scene has them, for the next sample. */
  #place(map: MaterialMap, scene: Scene): void {
    const { eyeDistanceMm } = scene.view
    const { width, height } = this.#sum
    const frame = frameCamera(scene.solid ?? map, eyeDistanceMm, width / height, this.#zoom)
    this.#frame = frame
    this.#material.setSolid(scene.solid !== undefined)
    this.#leaves.setSolid(scene.solid ?? flatSolid(map))
    const lay = layOf(scene, map)
    const reach = lay === null ? ([0, 0] as const) : reachOf(lay, standIn(scene), map)
    this.#material.setOverlay(lay, groundOf(scene), reach)
    const shown = { ...scene.view, gamut: this.#showGamut(scene.view.gamut) }
    this.#display.setView(shown, sceneWhite(scene), totalLux(scene.light))

    placeEye(this.camera, frame, eyeDistanceMm, { width, height, taken: this.#taken, grid: this.#grid })
    const [r0, r1, r2] = standIn(scene).view
    this.#leaves.place(new Matrix4().set(...r0, 0, ...r1, 0, ...r2, 0, 0, 0, 0, 1))
  }

  /** Tells the canvas which colours its numbers mean; where it cannot be told, they mean sRGB. */
  #showGamut(wanted: Gamut): Gamut {
    const gl = this.#renderer.getContext()
    if (!('drawingBufferColorSpace' in gl)) return 'srgb'
    gl.drawingBufferColorSpace = wanted
    return wanted
  }

  #show(target: WebGLRenderTarget | null, taken: number, width: number, height: number): void {
    const renderer = this.#renderer
    const { texture, width: across, height: down } = this.#sum
    // Hatching is as fine as the screen.
    if (across * down < width * height && !this.#display.hatched) {
      renderer.setRenderTarget(this.#coarse.begin(across, down))
      this.#display.render(renderer, texture, taken, across, down)
      renderer.setRenderTarget(target)
      this.#coarse.spread(renderer, width, height)
      return
    }
    renderer.setRenderTarget(target)
    this.#display.render(renderer, texture, taken, width, height)
  }
}

/** While moving, half of the samples in a band. */
const movingSampling = 0.5
