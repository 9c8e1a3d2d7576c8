import { useSyncExternalStore } from 'react'

/** One plain object and who wants to hear of a change. */
export interface Store<S> {
  get(): S
  /** Replaces the state by what `change` makes of it; the same object back means nothing happened. */
  set(change: (state: S) => S): void
  /** Returns the function that stops listening. */
  listen(heard: () => void): () => void
}

export function createStore<S>(initial: S): Store<S> {
  let state = initial
  const listeners = new Set<() => void>()
  return {
    get: () => state,
    set(change) {
      const next = change(state)
      if (Object.is(next, state)) return
      state = next
      for (const heard of [...listeners]) heard()
    },
    listen(heard) {
      listeners.add(heard)
      return () => listeners.delete(heard)
    },
  }
}

/** A part of the state, read during render. `pick` must return the same object for the same state. */
export function useStore<S, T>(store: Store<S>, pick: (state: S) => T): T {
  return useSyncExternalStore(store.listen, () => pick(store.get()))
}
