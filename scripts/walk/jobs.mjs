import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

/** @typedef {'none' | 'demo' | 'asked' | 'art-missing' | 'art-changed' | 'flashes'} Opened what the app is opened with */

const demo = fileURLToPath(new URL('../../demo-assets', import.meta.url))

/**
 * Writes a job and its art into a folder: the demo, coarser and without a room, so that a processor draws it in a moment.
 * @param {Opened} kind
 * @param {string} folder of its own
 * @returns {string | undefined} path of the job
 */
export function jobFor(kind, folder) {
  if (kind === 'none') return undefined
  mkdirSync(folder, { recursive: true })
  const whole = JSON.parse(readFileSync(join(demo, 'demo.job.json'), 'utf8'))
  const lighter = {
    ...whole,
    panel: { ...whole.panel, resolutionPpi: 120 },
    light: { ...whole.light, roomLevel: 0 },
    ...(kind === 'flashes' ? { paths: [flashing] } : {}),
    ...(kind === 'asked' ? { roles: [], found: [] } : {}),
  }
  const art = join(folder, 'demo.psd')
  if (kind === 'art-changed')
    // Bytes after the end of the picture change the file and not what it shows.
    writeFileSync(art, Buffer.concat([readFileSync(join(demo, 'demo.psd')), Buffer.from('later')]))
  else if (kind !== 'art-missing') copyFileSync(join(demo, 'demo.psd'), art)
  const path = join(folder, 'demo.job.json')
  writeFileSync(path, JSON.stringify(lighter))
  return path
}

/** The lamp leaps to and fro twelve times in two seconds: far past three flashes a second. */
const flashing = {
  name: 'Shutter',
  loop: false,
  keys: Array.from({ length: 13 }, (_, i) => ({
    timeS: i / 6,
    lamp: { azimuthDeg: 90, elevationDeg: i % 2 === 0 ? 88 : 12, distanceMm: 500, diameterMm: 60 },
    pose: { tiltForwardDeg: i % 2 === 0 ? 0 : 8, tiltSideDeg: 0, turnDeg: 0 },
  })),
}
