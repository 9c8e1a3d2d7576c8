import type { MaterialMap } from '../../core/material/map.ts'
import type { Tables } from '../../core/optics/tables.ts'
import { distinctSources } from '../../core/reference/baking.ts'
import type { Zoom } from '../../core/reference/camera.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { StageCanvas } from '../stage/canvas.ts'

/** A hand that rests this long is still, ms. */
const restMs = 160

/** The live picture: the app's own stage, coarse while something moves, exact at rest. */
export class Live {
  readonly #view: StageCanvas
  readonly #canvas: HTMLCanvasElement
  readonly #tablesFor: (scene: Scene) => Promise<readonly Tables[]>
  #wanted = ''
  #rest = 0
  #still = false

  /**
   * Throws where the browser gives no WebGL 2.
   * @param onDrawn after every picture; `fine` says that it becomes no finer
   */
  constructor(
    canvas: HTMLCanvasElement,
    levels: readonly MaterialMap[],
    tablesFor: (scene: Scene) => Promise<readonly Tables[]>,
    onLost: (lost: boolean) => void,
    onDrawn: (fine: boolean) => void,
  ) {
    this.#canvas = canvas
    this.#tablesFor = tablesFor
    this.#view = new StageCanvas(canvas, onLost)
    this.#view.onDrawn = fine => onDrawn(fine && this.#still)
    this.#view.stage.setMap(levels)
  }

  /** Names of plates and gratings that the screen leaves out. */
  get omitted(): readonly string[] {
    return this.#view.stage.omitted
  }

  fit(): void {
    this.#view.setSize(this.#canvas.clientWidth, this.#canvas.clientHeight)
  }

  /** Shows a scene as soon as there are tables of its lamps; until then the scene before stays. */
  async show(scene: Scene, zoom: Zoom): Promise<void> {
    const key = sourcesKey(scene)
    this.#wanted = key
    const tables = await this.#tablesFor(scene)
    // Other lamps were asked for meanwhile.
    if (this.#wanted !== key) return
    const { stage } = this.#view
    this.#view.setGamut(scene.view.gamut)
    stage.setTables(tables)
    stage.setScene(scene)
    stage.setZoom(zoom)
    stage.setEffort('moving')
    this.#still = false
    clearTimeout(this.#rest)
    this.#rest = window.setTimeout(() => {
      stage.setEffort('still')
      this.#still = true
      this.#view.ask()
    }, restMs)
    this.#view.ask()
  }

  close(): void {
    clearTimeout(this.#rest)
    this.#view.close()
  }
}

/** Scenes with the same spectra among their lamps share their tables. */
export const sourcesKey = ({ light }: Pick<Scene, 'light'>): string =>
  JSON.stringify(distinctSources(light).sources)
