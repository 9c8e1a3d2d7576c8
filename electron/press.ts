import { readFile } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { BadInput, type Finding } from '../core/base/finding.ts'
import { type InkPlane, screenPlane } from '../core/color/ink-plane.ts'
import type { PrintCondition } from '../core/color/print-condition.ts'
import { type ColorEngine, openColorEngine, type Rendering } from '../core/color/profile.ts'
import { readPrintCondition } from '../core/color/read-condition.ts'
import type { Press } from '../core/material/inks.ts'
import type { PlacedFile } from './asset-places.ts'
import { lightCondition } from './light-condition.ts'
import { distFolder } from './places.ts'
import { readWhole } from './read-whole.ts'
import { keptCondition } from './shipped-condition.ts'

const root = join(distFolder, '..')
const engineFile = join(root, 'node_modules', 'lcms-wasm', 'dist', 'lcms.wasm')
/** Offset on coated paper; used where a job names no print condition of its own. */
export const shippedProfile = join(root, 'core', 'data', 'icc', 'ISOcoated_v2_300_bas.icc')

/** A print condition's profile is a few megabytes at most. */
const mostBytes = 64 * 2 ** 20

let opened: Promise<ColorEngine> | null = null
let last: { readonly key: string; readonly bytes: Uint8Array; readonly condition: PrintCondition } | null =
  null

/** The colour engine, opened once a thread. */
export function openEngine(): Promise<ColorEngine> {
  opened ??= readFile(engineFile).then(openColorEngine)
  return opened
}

/**
 * The press that a job prints on. A profile that is not to be had is a finding, and the one that ships stands in.
 * Rejects with BadInput when the profile that is there is no print condition.
 * @param profile the job's own; null = the one that ships
 */
export async function openPress(
  { intent, blackPoint }: Rendering,
  profile: PlacedFile | null = null,
): Promise<{ readonly press: Required<Press>; readonly findings: readonly Finding[] }> {
  const engine = await openEngine()
  const path = profile?.path ?? shippedProfile
  const bytes = await readProfile(path)
  const name = basename(path)
  // Reading takes half a second, and a map is built many times.
  const key = JSON.stringify([path, intent, blackPoint, tellOf(bytes)])
  if (last?.key !== key) {
    const kept = path === shippedProfile ? await keptCondition(tellOf(bytes), { intent, blackPoint }) : null
    const condition =
      kept ?? lightCondition(readPrintCondition(engine, bytes, { intent, blackPoint }, name)).condition
    last = { key, bytes, condition }
  }
  const { condition } = last
  return { press: { engine, profile: last.bytes, name, condition }, findings: placed(profile) }
}

/** The profile that ships as the engine reads it, and what tells its bytes. */
export async function readShipped({ intent, blackPoint }: Rendering): Promise<{
  readonly profile: string
  readonly condition: PrintCondition
}> {
  const bytes = await readProfile(shippedProfile)
  const engine = await openEngine()
  const condition = readPrintCondition(engine, bytes, { intent, blackPoint }, basename(shippedProfile))
  return { profile: tellOf(bytes), condition }
}

/** The condition of the profile that ships, colorimetric, black as it prints. */
export async function shippedCondition(): Promise<PrintCondition> {
  const { press } = await openPress({ intent: 'relative', blackPoint: false })
  return press.condition
}

let onScreen: Promise<InkPlane> | null = null

/** What a screen shows of inks printed by the profile that ships: enough for a small picture of a layer. */
export function printOnScreen(): Promise<InkPlane> {
  onScreen ??= shippedCondition().then(screenPlane)
  return onScreen
}

/** Throws BadInput when a file is no print condition's profile; says its name when it is. */
export async function checkProfile(path: string): Promise<string> {
  const bytes = await readProfile(path)
  const rendering: Rendering = { intent: 'relative', blackPoint: false }
  return readPrintCondition(await openEngine(), bytes, rendering, basename(path)).name
}

async function readProfile(path: string): Promise<Uint8Array> {
  const bytes = await readWhole(path)
  if (bytes.length <= mostBytes) return bytes
  throw new BadInput(
    'profile-size',
    basename(path),
    'colour profile',
    `has ${bytes.length} bytes, more than a profile of printing has`,
    'Choose the ICC profile of the printing',
  )
}

/** Tells apart two states of a file at one place: its length and a sum. Source: FNV-1a, the constants of its 32-bit form. */
function tellOf(bytes: Uint8Array): string {
  let hash = 0x811c9dc5
  for (const byte of bytes) hash = Math.imul(hash ^ byte, 0x01000193)
  return `${bytes.length} ${hash >>> 0}`
}

function placed(profile: PlacedFile | null): readonly Finding[] {
  if (profile === null || profile.state === 'found') return []
  return [
    {
      severity: 'warning',
      code: `profile-${profile.state}`,
      where: `print profile "${profile.name}"`,
      ...words[profile.state],
    },
  ]
}

const words = {
  changed: {
    message: 'is not the file that the job was made with; colours follow it as it is now',
    fix: 'Choose the profile again to keep the new one.',
  },
  outside: {
    message: "lies outside the job's folder and was not read; the profile that ships stands in",
    fix: 'Choose the profile again if you trust the job, or move it beside the job.',
  },
  missing: {
    message: 'is not there; the profile that ships stands in',
    fix: 'Put it back, or choose the profile again.',
  },
} as const
