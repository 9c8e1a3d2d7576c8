import { BadInput } from '../base/finding.ts'
import { textToBytes } from '../base/text85.ts'
import type { MaterialMap } from '../material/map.ts'
import type { ProofManifest } from './manifest.ts'
import { pageParts, planePart } from './page-parts.ts'
import { readManifest, readMap } from './read.ts'

/** A proof's file read outside a browser. */
export interface OpenedProof {
  readonly manifest: ProofManifest
  /** Throws BadInput, naming the plane, where one is damaged. */
  readonly map: () => MaterialMap
}

/** Reads the text of a proof's file. Throws BadInput when it is none, or of a newer version. @param name of the file */
export function openPage(text: string, name: string): OpenedProof {
  const described = blockText(text, pageParts.manifest)
  if (described === null)
    throw new BadInput(
      'not-a-proof',
      name,
      'the file',
      'is not the one file of a proof',
      'Choose a file that ends in .proof.html',
    )
  const manifest = readManifest(described, name)
  const bytesOf = (at: number): Uint8Array | null => {
    const packed = blockText(text, planePart(at))
    if (packed === null) return null
    try {
      return textToBytes(packed)
    } catch {
      // What is no text of bytes has none: its plane is then told to be short.
      return new Uint8Array(0)
    }
  }
  return { manifest, map: () => readMap(manifest, (_, at) => bytesOf(at), name) }
}

/** The text of an inert block; none of them holds a `<`. */
function blockText(page: string, id: string): string | null {
  const from = page.indexOf(`<script id="${id}" `)
  if (from < 0) return null
  const start = page.indexOf('>', from) + 1
  const end = page.indexOf('<', start)
  return start === 0 || end < 0 ? null : page.slice(start, end)
}
