import { type ComponentType, type LazyExoticComponent, lazy } from 'react'

/** Parts of the window that the first picture does not need. */
const loads = new Set<() => Promise<unknown>>()

/**
 * A part that comes when it is first shown. One that cannot be had, because the program that serves the page has
 * ended, says so in its place; everything else goes on.
 */
export function late<P extends object>(
  load: () => Promise<ComponentType<P>>,
): LazyExoticComponent<ComponentType<P>> {
  loads.add(load)
  return lazy(async () => ({ default: await load().catch((): ComponentType<P> => Missing) }))
}

/** Brings every late part, so that none has to be waited for and none can be missing later. */
export async function bringLate(): Promise<void> {
  // One that does not come now is asked for again when it is shown.
  await Promise.allSettled([...loads].map(load => load()))
}

function Missing() {
  return (
    <p role="alert">
      This part of the window could not be loaded. Save your work, start rakelight again and open the address
      it prints.
    </p>
  )
}
