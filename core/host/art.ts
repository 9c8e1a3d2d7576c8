import * as v from 'valibot'
import type { Art } from '../art/layer.ts'
import type { Finding } from '../base/finding.ts'
import type { Job } from '../job/job.ts'
import { artReading, besideFiles } from '../job/schema/art.ts'
import type { MapChange } from '../material/change.ts'
import type { FirstLook } from '../material/first-look.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Assigned } from '../roles/role.ts'
import { anyJob, fileId, pictureSide, taskId } from './fields.ts'
import type { Picture } from './picture.ts'

/** Art without its profile bytes, with the roles that the rules found. */
export interface ImportedArt {
  readonly fileId: string
  readonly art: Art
  readonly sha256: string
  readonly assigned: readonly Assigned[]
  readonly findings: readonly Finding[]
  /** How its files stood on the disk before they were read, as `artState` says it; null when one was gone. */
  readonly state: string | null
  /** A fresh job for this art, as `rakelight job` would write it. */
  readonly job: Job
}

/** The pages of a file, for one of them to be chosen. */
export interface ArtPages {
  readonly count: number
  /** The first ones; of a very long file not all. */
  readonly pages: readonly {
    /** From 1. */
    readonly number: number
    /** Finished size, mm: of the trim, else of all that is read. */
    readonly widthMm: number
    readonly heightMm: number
    /** Null where it cannot be read; the reason is said when it is opened. */
    readonly picture: Picture | null
  }[]
}

export interface BuiltMap {
  /** Names what the map was made from: the page says it when it asks for the next. */
  readonly id: string
  /** The map with its coarser levels, finest first, or what differs from those that the page holds. */
  readonly shown:
    | { readonly kind: 'whole'; readonly levels: readonly MaterialMap[] }
    | { readonly kind: 'change'; readonly change: MapChange }
    /** The map that the page holds stays; what it differs in is asked for next. */
    | { readonly kind: 'look'; readonly look: FirstLook }
  readonly assigned: readonly Assigned[]
  readonly findings: readonly Finding[]
}

const target = v.object({ kind: v.picklist(['layer', 'channel']), id: v.string() })

/** Art, and the map that is built from it. */
export const artRequests = {
  /**
   * Reads art. `reading`: how, and the files beside it that a job names; `besideIds`: those that were chosen together with
   * it just now. A password is held until the program ends.
   */
  importArt: v.object({
    fileId,
    taskId,
    reading: v.optional(artReading, {}),
    besideIds: v.optional(v.pipe(v.array(fileId), v.maxLength(64)), []),
    password: v.optional(v.nullable(v.pipe(v.string(), v.maxLength(1000))), null),
  }),
  /** Small pictures of the pages of a file, longest side at most `size`. */
  artPages: v.object({
    fileId,
    taskId,
    beside: v.optional(besideFiles, []),
    size: pictureSide(512),
  }),
  /** How the file stands on the disk: another text after another save. Null when it is gone or cannot change. */
  artState: v.object({ fileId, beside: v.optional(besideFiles, []) }),
  /** Roles again after the job changed (aliases, choices), without reading the file again. */
  assignRoles: v.object({ fileId, job: anyJob }),
  /** `amount`: the coverage read from the layer, grey; `colour`: as the file shows it. Longest side at most `size`. */
  preview: v.object({
    fileId,
    target,
    show: v.picklist(['colour', 'amount']),
    job: anyJob,
    size: pictureSide(1024),
  }),
  /**
   * `from`: id of the map that the page holds and gives up for the next; then only what changed comes. `soon`: where that
   * takes long, a first look may come instead.
   */
  buildMap: v.object({
    fileId,
    taskId,
    job: anyJob,
    from: v.optional(v.nullable(v.pipe(v.string(), v.maxLength(64))), null),
    soon: v.optional(v.boolean(), false),
  }),
} as const

/** What each of them answers. */
export interface ArtAnswers {
  importArt: ImportedArt
  artPages: ArtPages
  artState: string | null
  assignRoles: { readonly assigned: readonly Assigned[] }
  preview: Picture
  buildMap: BuiltMap
}
