/** One plain value, and who wants to hear when it is another. */
export class Store<T> {
  #now: T
  readonly #heard = new Set<(now: T, before: T) => void>()

  constructor(first: T) {
    this.#now = first
  }

  get(): T {
    return this.#now
  }

  set(next: T): void {
    const before = this.#now
    if (next === before) return
    this.#now = next
    for (const hear of this.#heard) hear(next, before)
  }

  /** Changes some fields of it. */
  put(change: Partial<T>): void {
    this.set({ ...this.#now, ...change })
  }

  /** Tells at once, and at every change. */
  follow(hear: (now: T, before: T) => void): void {
    this.#heard.add(hear)
    hear(this.#now, this.#now)
  }
}
