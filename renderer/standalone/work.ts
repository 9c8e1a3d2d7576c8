import { BadInput } from '../../core/base/finding.ts'
import { textToBytes } from '../../core/base/text85.ts'
import type { MaterialMap, PlaneData } from '../../core/material/map.ts'
import { pyramid } from '../../core/material/mip.ts'
import { type Baking, bakeTables } from '../../core/optics/bake.ts'
import type { Tables } from '../../core/optics/tables.ts'
import type { PackedPlane } from '../../core/proof/planes.ts'
import { unpackPlane } from '../../core/proof/read.ts'

/** What is done away from the window. */
export type Asked =
  /** @param text of the packed plane; null where the page has lost it */
  | { readonly do: 'plane'; readonly entry: PackedPlane; readonly text: string | null; readonly name: string }
  | { readonly do: 'levels'; readonly map: MaterialMap }
  | { readonly do: 'tables'; readonly bakings: readonly Baking[] }

export interface Answers {
  readonly plane: PlaneData
  /** The map and its coarser levels. */
  readonly levels: readonly MaterialMap[]
  readonly tables: readonly Tables[]
}

/** What went wrong, as the window says it. */
export interface Refused {
  /** The part of the file, such as `plane "kappa1"`; null where it is not the file's fault. */
  readonly where: string | null
  readonly message: string
}

/** Throws BadInput where a plane is damaged. */
export function answer(asked: Asked): Answers[Asked['do']] {
  switch (asked.do) {
    case 'plane': {
      const { entry, text, name } = asked
      return unpackPlane(entry, text === null ? null : bytesOrNone(text), name)
    }
    case 'levels':
      return pyramid(asked.map)
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
