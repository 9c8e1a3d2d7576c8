import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { openColorEngine } from '../core/color/profile.ts'
import type { Press } from '../core/material/inks.ts'
import { distFolder } from './places.ts'

const root = join(distFolder, '..')
const engineFile = join(root, 'node_modules', 'lcms-wasm', 'dist', 'lcms.wasm')
/** Offset on coated paper; stands in until a job names its own press condition. */
const profileFile = join(root, 'core', 'data', 'icc', 'ISOcoated_v2_300_bas.icc')

let opened: Promise<Press> | null = null

/** The colour engine and the press's profile, opened once a thread. */
export function openPress(): Promise<Press> {
  opened ??= open()
  return opened
}

async function open(): Promise<Press> {
  const [engine, profile] = await Promise.all([
    readFile(engineFile).then(openColorEngine),
    readFile(profileFile),
  ])
  return { engine, profile }
}
