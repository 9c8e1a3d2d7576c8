import type { ArtFile } from '../core/art/layer.ts'
import { type ReadOptions, readArt } from '../core/art/read.ts'
import type { Task } from '../core/base/task.ts'
import type { ArtReading } from '../core/job/job.ts'
import { withPathAreas } from '../core/roles/path-areas.ts'
import { type FileSource, openFile } from './file-source.ts'
import { shippedData } from './shipped-data.ts'

/** Where art lies on this machine. It may cross to another thread of this machine, never out of it. */
export interface PlacedArt {
  readonly path: string
  /** Places of the files that make it up together with the first, in the job's order. */
  readonly beside: readonly string[]
  /** Opens a locked file; held for as long as the program runs and written nowhere. */
  readonly password: string | null
}

/** Art that is one file without a lock. */
export const oneFile = (path: string): PlacedArt => ({ path, beside: [], password: null })

/** Art that is open, until it is closed. */
export interface OpenArt {
  readonly file: ArtFile
  close(): Promise<void>
}

/** How art is read, beside where it lies. */
export type ReadingOf = {
  readonly [K in Exclude<keyof ArtReading, 'beside'>]?: ArtReading[K] | undefined
}

/** Opens art, saved paths that are areas among its layers. Rejects with BadInput when a file of it cannot be used, and then leaves none open. */
export async function openArt(
  { path, beside, password }: PlacedArt,
  { page, ppi, readAs }: ReadingOf,
  task?: Task,
): Promise<OpenArt> {
  const sources: FileSource[] = []
  const close = async () => {
    for (const source of sources.splice(0)) await source.close()
  }
  try {
    for (const place of [path, ...beside]) sources.push(await openFile(place))
    const [first, ...rest] = sources as [FileSource, ...FileSource[]]
    const options: ReadOptions = {
      ...(page === undefined ? {} : { page }),
      ...(ppi === undefined ? {} : { ppi }),
      ...(readAs === undefined ? {} : { readAs }),
      ...(password === null ? {} : { password }),
      ...(rest.length === 0 ? {} : { beside: rest }),
      shipped: shippedData,
    }
    return { file: withPathAreas(await readArt(first, options, task)), close }
  } catch (error) {
    await close()
    throw error
  }
}
