/** Time between two looks whether the card is done, ms. */
const lookEveryMs = 2
/** A frame that takes longer says no more; a hidden page may never end one. */
const mostMs = 4000

/** Tells how long a frame took from its commands to its end on the card. One frame at a time. */
export class FrameTimer {
  readonly #gl: WebGL2RenderingContext
  readonly #told: (ms: number) => void
  #waiting = false
  #stopped = false

  constructor(gl: WebGL2RenderingContext, told: (ms: number) => void) {
    this.#gl = gl
    this.#told = told
  }

  /** Call when a frame's commands have been given. Does nothing while another is waited for. */
  ask(startedMs: number): void {
    const gl = this.#gl
    if (this.#waiting || this.#stopped) return
    const fence = gl.fenceSync(gl.SYNC_GPU_COMMANDS_COMPLETE, 0)
    if (fence === null) return
    gl.flush()
    this.#waiting = true
    const look = () => {
      const ms = performance.now() - startedMs
      const done = gl.getSyncParameter(fence, gl.SYNC_STATUS) === gl.SIGNALED
      if (!done && ms < mostMs && !this.#stopped && !gl.isContextLost()) {
        setTimeout(look, lookEveryMs)
        return
      }
      gl.deleteSync(fence)
      this.#waiting = false
      if (done && !this.#stopped) this.#told(ms)
    }
    setTimeout(look, 0)
  }

  stop(): void {
    this.#stopped = true
  }
}
