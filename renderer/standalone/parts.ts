import { pageParts, planePart } from '../../core/proof/page-parts.ts'

/** What the page carries for its script. */
export interface PageParts {
  /** Text of the manifest. */
  readonly manifest: string
  /** Text of a plane's bytes; null where the page has lost it. */
  readonly planeText: (at: number) => string | null
  readonly still: HTMLImageElement
  readonly strip: readonly HTMLImageElement[]
  /** Where the live view goes. */
  readonly live: HTMLElement
}

/** The parts of the page that the script runs in; a page that has lost one says which by throwing. */
export function partsOfPage(): PageParts {
  const still = part(pageParts.still)
  if (!(still instanceof HTMLImageElement)) throw new Error(`#${pageParts.still} is no picture`)
  return {
    manifest: part(pageParts.manifest).textContent,
    planeText: at => document.getElementById(planePart(at))?.textContent ?? null,
    still,
    strip: [...part(pageParts.strip).querySelectorAll('img')],
    live: part(pageParts.live),
  }
}

function part(id: string): HTMLElement {
  const found = document.getElementById(id)
  if (found === null) throw new Error(`this file has lost its part "${id}"; ask for it again`)
  return found
}
