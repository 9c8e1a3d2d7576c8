import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { blankArt } from '../../core/art/blank.ts'
import { makeProof } from '../../core/export/proof.ts'
import { sceneWith } from '../../core/job/scene.ts'
import type { MaterialMap } from '../../core/material/map.ts'
import { PlaneReader } from '../../core/material/plane.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { packPlane, plainPlanes } from '../../core/proof/pack.ts'
import { unpackPlane } from '../../core/proof/read.ts'
import { versionOf } from '../../core/proof/version.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { buildFromJob, openJob } from '../../electron/open-job.ts'
import { viewerScripts } from '../../electron/viewer-scripts.ts'
import type { BenchResult, BenchRow } from './bench.ts'

/** What the page may have beside its planes: script, styles, words, still and strip. */
const beside = 700_000

/**
 * Bytes of the demo's proof against the best lossless pictures of its planes: each component alone, laid out as the map
 * has it, as PNG by ImageMagick at its highest effort or as lossless WebP by libvips, whichever is smaller; 16 bits as
 * PNG, or as WebP of low and high bytes. The table of the print condition is no plane of the map and is not counted.
 */
export async function run(): Promise<BenchResult> {
  const root = fileURLToPath(new URL('../../', import.meta.url))
  const opened = await openJob(join(root, 'demo-assets', 'demo.job.json'), false)
  const { job } = opened
  const { map, assigned } = await buildFromJob(opened)
  const scene = sceneWith(job, job.light.lamps[0].pose, job.view.pose)
  const { page, manifest } = makeProof({
    of: versionOf({
      jobName: 'demo.job.json',
      madeAt: '2026-03-04T09:30:00Z',
      program: '0',
      data: '0',
      sources: [],
      job,
    }),
    art: blankArt({ widthMm: 1, heightMm: 1, whitePart: 0 }).art,
    ...{ assigned, checked: null, notes: [], map, budget: 25_000_000 },
    sets: bakingsOf(scene, map).map(bakeTables),
    scripts: await viewerScripts(),
  })
  const bytes = Buffer.byteLength(page)
  const plain = plainPlanes(map)
  const packing = seconds(() => plain.map(packPlane))
  const unpacking = seconds(() =>
    packing.value.map(({ entry, bytes: packed }) => unpackPlane(entry, packed, 'demo')),
  )
  const packed = manifest.planes.reduce((sum, plane) => sum + plane.bytes, 0)
  const rows: BenchRow[] = [
    { name: 'the page', value: bytes / 1000, unit: 'kB', aim: null },
    { name: 'its planes, packed', value: packed / 1000, unit: 'kB', aim: null },
    { name: 'packing, processor', value: packing.taken, unit: 's', aim: null },
    { name: 'unpacking, processor', value: unpacking.taken, unit: 's', aim: null },
  ]
  const best = bestPictures(map)
  if (best === null)
    rows.push({ name: 'PNG and WebP: convert or vips is not installed', value: 0, unit: '', aim: null })
  else
    rows.push(
      { name: 'best PNG or WebP of the planes', value: best / 1000, unit: 'kB', aim: null },
      {
        name: 'page less 700 kB, over the best pictures',
        value: (bytes - beside) / best,
        unit: 'x',
        aim: 1.4,
      },
    )
  return {
    title: `one-file proof of the demo, ${map.width} × ${map.height}, ${map.planes.size} planes`,
    rows,
  }
}

function seconds<T>(work: () => T): { readonly value: T; readonly taken: number } {
  const began = process.cpuUsage()
  const value = work()
  const { user, system } = process.cpuUsage(began)
  return { value, taken: (user + system) / 1e6 }
}

/** Sum of the smallest pictures of all components; null where a program is missing. */
function bestPictures(map: MaterialMap): number | null {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-proof-'))
  try {
    let sum = 0
    for (const plane of map.planes.values())
      for (let c = 0; c < plane.components; c++) {
        const smallest = smallestPicture(folder, map, new PlaneReader(plane, map.width), c)
        if (smallest === null) return null
        sum += smallest
      }
    return sum
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

function smallestPicture(
  folder: string,
  { width, height }: MaterialMap,
  plane: PlaneReader,
  c: number,
): number | null {
  const wide = !(plane.data instanceof Uint8Array)
  const [high, low] = [Buffer.alloc(width * height), Buffer.alloc(width * height)]
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i++) {
      const at = plane.at(x, y)
      const value = at < 0 ? 0 : plane.data[at + c]! & 0xffff
      low[i] = value & 255
      high[i] = value >> 8
    }
  const both = Buffer.alloc(2 * low.length)
  for (let i = 0; i < low.length; i++) both.writeUInt16BE((high[i]! << 8) | low[i]!, 2 * i)
  const png = pngBytes(folder, greymap(width, height, wide ? 65535 : 255, wide ? both : low))
  const parts = wide ? [high, low] : [low]
  const webp = parts.map(bytes => webpBytes(folder, greymap(width, height, 255, bytes)))
  if (png === null || webp.some(size => size === null)) return null
  return Math.min(
    png,
    webp.reduce<number>((all, size) => all + (size ?? 0), 0),
  )
}

/** A grey picture as netpbm has it. */
const greymap = (width: number, height: number, most: number, samples: Buffer): Buffer =>
  Buffer.concat([Buffer.from(`P5 ${width} ${height} ${most}\n`), samples])

function pngBytes(folder: string, picture: Buffer): number | null {
  const [from, to] = [join(folder, 'a.pgm'), join(folder, 'a.png')]
  writeFileSync(from, picture)
  return written(['convert', from, '-define', 'png:compression-level=9', '-strip', to], to)
}

function webpBytes(folder: string, picture: Buffer): number | null {
  const [from, to] = [join(folder, 'a.pgm'), join(folder, 'a.webp')]
  writeFileSync(from, picture)
  return written(['vips', 'webpsave', from, to, '--lossless', '--effort', '6', '--strip'], to)
}

/** Bytes of the file that a program makes; null where it is not installed. */
function written([program, ...args]: readonly [string, ...string[]], to: string): number | null {
  const done = spawnSync(program, args, { encoding: 'utf8' })
  if (done.error) return null
  if (done.status !== 0) throw new Error(`${program} ended with status ${done.status}: ${done.stderr}`)
  return readFileSync(to).length
}
