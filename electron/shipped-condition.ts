import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { PrintCondition } from '../core/color/print-condition.ts'
import type { Rendering } from '../core/color/profile.ts'
import { type ConditionHead, packedCondition, packTable } from './light-condition.ts'
import { distFolder } from './places.ts'

/** Made by the build: what is said of the table on a line of JSON, then the table, packed. */
const name = 'condition.bin'

interface Head extends ConditionHead {
  /** Tells the profile that it was read from. */
  readonly profile: string
}

/** Keeps a condition in a folder. @param profile tells the bytes that it was read from */
export async function keepCondition(
  folder: string,
  profile: string,
  condition: PrintCondition,
): Promise<void> {
  const { factors, ...rest } = condition
  const head: Head = { ...rest, profile }
  const line = new TextEncoder().encode(`${JSON.stringify(head)}\n`)
  await writeFile(join(folder, name), Buffer.concat([line, await packTable(factors)]))
}

/** The condition of the profile that ships, as the build read it; null where it kept none of this profile and rendering. */
export async function keptCondition(
  profile: string,
  { intent, blackPoint }: Rendering,
  folder = join(distFolder, 'press'),
): Promise<PrintCondition | null> {
  const bytes = await readFile(join(folder, name)).catch(() => null)
  if (bytes === null) return null
  const end = bytes.indexOf(10)
  const { profile: of, ...head } = JSON.parse(bytes.subarray(0, end).toString()) as Head
  const same = of === profile && head.rendering.intent === intent && head.rendering.blackPoint === blackPoint
  return same ? packedCondition(head, Uint8Array.from(bytes.subarray(end + 1))) : null
}
