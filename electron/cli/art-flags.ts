import { stat } from 'node:fs/promises'
import { drawnPpi, drawnPpiRange } from '../../core/art/drawn/usual.ts'
import type { ArtReading } from '../../core/job/job.ts'
import { passwordName } from '../open-job.ts'
import type { PlacedArt, ReadingOf } from '../placed-art.ts'
import { platesIn } from '../plate-folder.ts'
import { type Args, UsageError } from './args.ts'
import { countOf, numberOf } from './numbers.ts'

const [leastPpi, mostPpi] = drawnPpiRange

export const passwordFlag = {
  password: { value: 'TEXT', says: `opens locked art; ${passwordName} in the environment when left out` },
} as const

/** Flags of every command that is given a file that may have pages. */
export const pageFlags = {
  page: { value: 'N', says: 'page of a file of pages; the first when left out' },
  ...passwordFlag,
} as const

/** Flags of every command that is given art rather than a job. */
export const artFlags = {
  ...pageFlags,
  ppi: {
    value: 'N',
    says: `pixels on an inch of art that is drawn, ${leastPpi} to ${mostPpi}; ${drawnPpi} when left out`,
  },
  beside: {
    value: 'FILES',
    says: 'further files that make up the art, comma between: further plates, or drawn layers over an image',
  },
  'layers-only': {
    value: null,
    says: 'read where layers are painted, not ink by ink: for pages whose inks cannot be told exactly',
  },
} as const

/** The art that the flags name, and how they want it read. */
export interface ArtAsked {
  readonly art: PlacedArt
  /** As a job keeps it, without the files beside it. */
  readonly reading: Omit<ArtReading, 'beside'>
}

/**
 * @param operand a file, or a folder of images of one plate each. Rejects with BadInput where the folder has none.
 */
export async function artAsked(operand: string, args: Args): Promise<ArtAsked> {
  const beside = (args.value('beside') ?? '')
    .split(',')
    .map(one => one.trim())
    .filter(one => one !== '')
  const [path, ...plates] = await filesAt(operand)
  const page = args.value('page')
  const ppi = numberOf(args, 'ppi')
  if (ppi !== undefined && !(ppi >= leastPpi && ppi <= mostPpi))
    throw new UsageError(`--ppi: expected ${leastPpi} to ${mostPpi}, got ${ppi}`)
  return {
    art: { path: path!, beside: [...plates, ...beside], password: passwordOf(args) },
    reading: {
      ...(page === undefined ? {} : { page: countOf(page, 'page', 1, 10_000) }),
      ...(ppi === undefined ? {} : { ppi }),
      ...(args.has('layers-only') ? { readAs: 'layers' as const } : {}),
    } satisfies ReadingOf,
  }
}

export const passwordOf = (args: Args): string | null =>
  args.value('password') ?? process.env[passwordName] ?? null

async function filesAt(operand: string): Promise<readonly string[]> {
  const info = await stat(operand).catch(() => null)
  return info?.isDirectory() ? platesIn(operand) : [operand]
}
