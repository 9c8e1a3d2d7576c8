import { useEffect, useRef, useState } from 'react'

/** What `load` brings, asked for again when `of` changes; null until then and when it fails. */
export function useLoaded<T>(of: string, load: () => Promise<T>): T | null {
  const loadNow = useRef(load)
  loadNow.current = load
  const [held, setHeld] = useState<{ readonly of: string; readonly value: T } | null>(null)
  // What was there stays until the next is: a strip that blinks cannot be compared.
  useEffect(() => {
    let wanted = true
    loadNow.current().then(
      value => {
        if (wanted) setHeld({ of, value })
      },
      () => {
        if (wanted) setHeld(null)
      },
    )
    return () => {
      wanted = false
    }
  }, [of])
  return held?.value ?? null
}
