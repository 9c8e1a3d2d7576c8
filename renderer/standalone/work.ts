import { BadInput } from '../../core/base/finding.ts'
import { textToBytes } from '../../core/base/text85.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { pyramid } from '../../core/material/mip.ts'
import { type Baking, bakeTables } from '../../core/optics/bake.ts'
import type { Tables } from '../../core/optics/tables.ts'
import type { ProofManifest } from '../../core/proof/manifest.ts'
import { readMap } from '../../core/proof/read.ts'

/** What is done away from the window. */
export type Asked =
  | {
      readonly do: 'map'
      readonly proof: Pick<ProofManifest, 'map' | 'planes'>
      /** Texts of the packed planes, in the order of the manifest; null where the page has lost one. */
      readonly blocks: readonly (string | null)[]
      readonly name: string
    }
  | { readonly do: 'tables'; readonly bakings: readonly Baking[] }

export interface Answers {
  /** The map and its coarser levels. */
  readonly map: readonly MaterialMap[]
  readonly tables: readonly Tables[]
}

/** What went wrong, as the window says it. */
export interface Refused {
  /** The part of the file, such as `plane "kappa 1"`; null where it is not the file's fault. */
  readonly where: string | null
  readonly message: string
}

/** Throws BadInput where a plane is damaged. */
export function answer(asked: Asked): Answers[Asked['do']] {
  switch (asked.do) {
    case 'map': {
      const { proof, blocks, name } = asked
      const bytesOf = (_: unknown, at: number) => {
        const block = blocks[at]
        return block == null ? null : bytesOrNone(block)
      }
      return pyramid(readMap(proof, bytesOf, name))
    }
    case 'tables':
      return asked.bakings.map(bakeTables)
  }
}

export function refusal(error: unknown): Refused {
  const message = error instanceof Error ? error.message : String(error)
  return { where: error instanceof BadInput ? error.where : null, message }
}

/** Text that is no bytes comes out as none, which no plane is. */
function bytesOrNone(text: string): Uint8Array {
  try {
    return textToBytes(text)
  } catch {
    return new Uint8Array(0)
  }
}
