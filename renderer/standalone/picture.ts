import type { MaterialMap } from '../../core/material/map.ts'
import type { Tables } from '../../core/optics/tables.ts'
import type { ProofManifest } from '../../core/proof/manifest.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { type Look, lookAt, pixelsOver, spotUnder } from '../stage/place.ts'
import { el } from './dom.ts'
import { Live } from './live.ts'
import type { SpotMm } from './notes.ts'
import type { Seen } from './seen.ts'
import { Store } from './store.ts'
import { nearestHeld } from './strip.ts'

/** `still`: the picture that the page opens with. `strip`: the nearest of those that were drawn beforehand. */
export type Shows = 'still' | 'live' | 'strip'

interface Given {
  readonly proof: Pick<ProofManifest, 'map' | 'strip'>
  readonly seen: Store<Seen>
  readonly sceneOf: (seen: Seen) => Scene
  readonly still: HTMLImageElement
  readonly strip: readonly HTMLImageElement[]
  readonly tablesFor: (scene: Scene) => Promise<readonly Tables[]>
}

/** What is on the table: first the still picture, then the live one; a strip where there is no live one. */
export class Picture {
  /** Called after every live picture, in its frame. */
  onDrawn: ((canvas: HTMLCanvasElement) => void) | null = null
  /** Called when something else is shown, or it lies elsewhere. */
  onMoved: (() => void) | null = null
  /** Called when the graphics card has let go of the picture, and when it has it back. */
  onLost: ((lost: boolean) => void) | null = null
  readonly box = el('div', { class: 'picture' })
  readonly shows = new Store<Shows>('still')
  readonly #given: Given
  /** How the still picture is held. */
  readonly #first: Seen
  #levels: readonly MaterialMap[] | null = null
  #live: Live | null = null

  constructor(given: Given) {
    this.#given = given
    this.#first = given.seen.get()
    const { still, strip, seen } = given
    this.box.append(still, ...strip)
    seen.follow((now, before) => {
      if (now !== before) this.#show()
    })
    new ResizeObserver(() => {
      this.#live?.fit()
      this.onMoved?.()
    }).observe(this.box)
    this.shows.follow(() => this.#show())
  }

  /** Levels of the map have come. Says false where the browser gives no WebGL 2. */
  begin(levels: readonly MaterialMap[]): boolean {
    this.#levels = levels
    return this.#open()
  }

  /** A new canvas in place of one whose picture the graphics card has let go of. */
  again(): boolean {
    this.#live?.close()
    this.#live = null
    this.box.querySelector('canvas')?.remove()
    return this.#open()
  }

  /** There is no live picture, or none any more. */
  fallBack(): void {
    this.shows.set('strip')
  }

  /** What is on the screen, as the optics has it. */
  scene(): Scene {
    const { seen, sceneOf, proof } = this.#given
    const now = seen.get()
    const shows = this.shows.get()
    if (shows !== 'strip') return sceneOf(shows === 'live' ? now : this.#first)
    const held = proof.strip.held[nearestHeld(proof.strip, now.pose)]
    return sceneOf(held === undefined ? now : { ...now, lamp: held.lamp, pose: held.pose, run: null })
  }

  /** The place of the art under a point of the box, mm; null beside the carton. */
  spotUnder(x: number, y: number): SpotMm | null {
    const { left, top, look } = this.#placed()
    return spotUnder(look, x - left, y - top)
  }

  /** The point of the box over a place of the art; null where no leaf shows it. */
  pixelOver({ xMm, yMm }: SpotMm): readonly [number, number] | null {
    const { left, top, look } = this.#placed()
    const at = pixelsOver(look)(xMm, yMm)
    return at === null ? null : [at[0] + left, at[1] + top]
  }

  #open(): boolean {
    if (this.#levels === null || !hasWebGl2()) return false
    const canvas = el('canvas', { 'aria-hidden': 'true' })
    this.box.append(canvas)
    let gone = false
    const onLost = (lost: boolean): void => {
      gone = lost
      this.shows.set(lost ? 'strip' : 'live')
      this.onLost?.(lost)
    }
    const onDrawn = (fine: boolean): void => {
      if (gone) return
      canvas.dataset.fine = String(fine)
      this.shows.set('live')
      this.onDrawn?.(canvas)
    }
    try {
      this.#live = new Live(canvas, this.#levels, this.#given.tablesFor, onLost, onDrawn)
    } catch {
      canvas.remove()
      return false
    }
    this.#live.fit()
    this.#show()
    return true
  }

  #show(): void {
    const { seen, sceneOf, proof, strip } = this.#given
    const now = seen.get()
    const shows = this.shows.get()
    this.box.dataset.shows = shows
    const nearest = shows === 'strip' ? nearestHeld(proof.strip, now.pose) : -1
    for (const [at, picture] of strip.entries()) picture.hidden = at !== nearest
    void this.#live?.show(sceneOf(now), now.zoom)
    this.onMoved?.()
  }

  /** A picture drawn beforehand is shown whole in the middle of the box; the live one fills it. */
  #placed(): { readonly left: number; readonly top: number; readonly look: Look } {
    const { clientWidth, clientHeight } = this.box
    const { proof, seen, strip, still } = this.#given
    const panel = proof.map
    if (this.shows.get() === 'live')
      return {
        left: 0,
        top: 0,
        look: lookAt(this.scene(), panel, seen.get().zoom, clientWidth, clientHeight),
      }
    const shown = this.shows.get() === 'strip' ? (strip[0] ?? still) : still
    const [w, h] = [shown.naturalWidth || 1, shown.naturalHeight || 1]
    const scale = Math.min(clientWidth / w, clientHeight / h)
    const [width, height] = [w * scale, h * scale]
    return {
      left: (clientWidth - width) / 2,
      top: (clientHeight - height) / 2,
      look: lookAt(this.scene(), panel, { scale: 1, x: 0, y: 0 }, width, height),
    }
  }
}

/** Asked beforehand, because the stage's own library says on the console what it lacks. */
function hasWebGl2(): boolean {
  const asked = document.createElement('canvas').getContext('webgl2')
  asked?.getExtension('WEBGL_lose_context')?.loseContext()
  return asked !== null
}
