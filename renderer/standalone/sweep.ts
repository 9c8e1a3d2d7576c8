import type { LampPath } from '../../core/job/job.ts'
import { isClosed, pathLength } from '../../core/job/path.ts'
import { calmStep } from '../../core/job/travel.ts'
import { button, el, slider } from './dom.ts'
import { FlashWatch } from './flash-watch.ts'
import type { Seen } from './seen.ts'
import type { Store } from './store.ts'

/** A frame longer than this was a hitch, and the sweep does not jump over it, s. */
const longestFrameS = 0.1

const caution =
  'Lit holography can flash. A sweep moves slowly, and stops by itself where the picture flashes more than three times a second (WCAG 2.2, 2.3.1).'
const lessMotion =
  'Your system asks for less motion, so nothing plays by itself here: move along the way with the slider.'

/** The lamp paths of a proof: played at a calm pace, or gone along by hand. */
export class Sweep {
  /** Null where the proof has no path that moves. */
  readonly box: HTMLElement | null
  readonly #store: Store<Seen>
  readonly #paths: readonly LampPath[]
  readonly #says: HTMLElement
  readonly #reduced = matchMedia('(prefers-reduced-motion: reduce)')
  #watch: FlashWatch | null = null

  constructor(store: Store<Seen>, paths: readonly LampPath[]) {
    this.#store = store
    this.#paths = paths
    this.#says = el('p', { class: 'quiet', role: 'status' })
    const moving = paths.flatMap((path, at) => (pathLength(path) > 0 ? [{ path, at }] : []))
    const [first] = moving
    this.box = first === undefined ? null : this.#build(moving, first.at)
  }

  /** Told of every picture on the screen; stops what flashes too much. */
  drawn(picture: HTMLCanvasElement): void {
    const { run } = this.#store.get()
    if (run?.playing !== true) {
      this.#watch = null
      return
    }
    this.#watch ??= new FlashWatch()
    if (!this.#watch.tooMuch(picture, performance.now())) return
    this.#store.put({ run: { ...run, playing: false } })
    this.#says.textContent =
      'Stopped: the picture flashed more than three times a second here. Move on with the slider.'
  }

  #build(moving: readonly { readonly path: LampPath; readonly at: number }[], first: number): HTMLElement {
    const pick = el('select', {}, ...moving.map(({ path, at }) => el('option', { value: at }, path.name)))
    const chosen = (): number => (moving.length > 1 ? Number(pick.value) : first)
    const lengthOf = (path: number): number => pathLength(this.#paths[path]!)
    const along = slider(
      'Along the way',
      [0, 1, 0.001],
      part => `${Math.round(100 * part)} %`,
      part => this.#put(chosen(), part * lengthOf(chosen()), false),
    )
    const play = button('Play slowly', () => {
      const { run } = this.#store.get()
      if (run?.playing === true) this.#store.put({ run: { ...run, playing: false } })
      else {
        this.#says.textContent = ''
        const from = run?.path === chosen() ? run.timeS : 0
        this.#put(chosen(), from >= lengthOf(chosen()) ? 0 : from, true)
        this.#next(null)
      }
    })
    const motion = el('p', { class: 'quiet' })
    const readMotion = (): void => {
      const less = this.#reduced.matches
      play.hidden = less
      motion.textContent = less ? lessMotion : caution
      const { run } = this.#store.get()
      if (less && run?.playing === true) this.#store.put({ run: { ...run, playing: false } })
    }
    this.#reduced.addEventListener('change', readMotion)
    readMotion()
    pick.addEventListener('change', () => this.#put(chosen(), 0, false))
    this.#store.follow(({ run }) => {
      const playing = run?.playing === true
      play.textContent = playing ? 'Pause' : 'Play slowly'
      if (run !== null && moving.length > 1) pick.value = String(run.path)
      along.show(run === null ? 0 : run.timeS / lengthOf(run.path))
    })
    return el(
      'div',
      { class: 'group', role: 'group', 'aria-label': 'Light in motion' },
      el(
        'label',
        { class: 'field' },
        el('span', {}, 'Sweep'),
        moving.length > 1 ? pick : el('span', { class: 'quiet' }, moving[0]?.path.name ?? ''),
      ),
      along.box,
      play,
      this.#says,
      motion,
    )
  }

  #put(path: number, timeS: number, playing: boolean): void {
    this.#store.put({ run: { path, timeS, playing } })
  }

  #next(last: number | null): void {
    requestAnimationFrame(now => {
      const { run } = this.#store.get()
      const path = run === null ? undefined : this.#paths[run.path]
      if (run === null || path === undefined || !run.playing) return
      const elapsed = last === null ? 0 : Math.min(longestFrameS, (now - last) / 1000)
      const length = pathLength(path)
      const timeS = run.timeS + calmStep(path, run.timeS, elapsed)
      if (timeS < length) this.#put(run.path, timeS, true)
      else if (isClosed(path)) this.#put(run.path, timeS % length, true)
      // Jumping back would flash.
      else this.#put(run.path, length, false)
      this.#next(now)
    })
  }
}
