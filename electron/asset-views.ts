import { stat } from 'node:fs/promises'
import { posix } from 'node:path'
import { BadInput, type Finding } from '../core/base/finding.ts'
import { type Beside, readGltf } from '../core/base/gltf.ts'
import { readPng } from '../core/base/png-read.ts'
import { checkCancelled, type Task } from '../core/base/task.ts'
import { encode } from '../core/color/rgb.ts'
import { heightsFrom } from '../core/effects/object/grey.ts'
import { objectViews } from '../core/effects/object/raster.ts'
import { type NamedBytes, readSequence } from '../core/effects/object/sequence.ts'
import type { ViewImage } from '../core/effects/view-image.ts'
import type { Picture } from '../core/host/picture.ts'
import { type PlacedAsset, placeFindings } from './asset-places.ts'
import { readWhole } from './read-whole.ts'

/** What a job's assets show, for the effects that name them. */
export interface ReadAssets {
  readonly views: (assetId: string) => readonly ViewImage[] | undefined
  readonly findings: readonly Finding[]
}

/** Reads every asset; one that cannot be read is told and left out. Throws Cancelled only. */
export async function readAssets(assets: readonly PlacedAsset[], task?: Task): Promise<ReadAssets> {
  const views = new Map<string, readonly ViewImage[]>()
  const findings: Finding[] = []
  for (const placed of assets) {
    checkCancelled(task)
    findings.push(...placeFindings(placed))
    // A model without its first file is nothing; of numbered pictures the rest is shown.
    if (placed.files.every(file => file.path === null)) continue
    if (placed.asset.kind === 'model' && placed.files[0]?.path == null) continue
    try {
      const read = await readAsset(placed, task)
      views.set(placed.asset.id, read.views)
      findings.push(...read.findings)
    } catch (error) {
      if (!(error instanceof BadInput)) throw error
      const { code, subject, where, problem, fix } = error
      findings.push({
        severity: 'error',
        code,
        where: `${subject}, ${where}`,
        message: problem,
        fix: `${fix}.`,
      })
    }
  }
  return { views: id => views.get(id), findings }
}

export interface ReadAsset {
  readonly views: readonly ViewImage[]
  readonly findings: readonly Finding[]
}

/** Longest side of a drawn view, pixels. */
const drawnSide = 512

/** Assets read last, oldest first: turning a lamp or a depth must not draw a model again. */
const kept: { readonly key: string; readonly read: ReadAsset }[] = []
const mostKept = 8

/** The pictures of one asset, in the order of its views. Rejects with BadInput naming the file. */
export async function readAsset({ asset, files }: PlacedAsset, task?: Task): Promise<ReadAsset> {
  const there = files.flatMap(({ name, path }) =>
    path === null ? [] : [{ name: posix.basename(name), whole: name, path }],
  )
  const key = JSON.stringify([
    asset.kind,
    'turning' in asset ? asset.turning : null,
    await Promise.all(there.map(stateOf)),
  ])
  const known = kept.find(one => one.key === key)
  if (known !== undefined) return known.read
  const named: (NamedBytes & { readonly whole: string })[] = []
  for (const { name, whole, path } of there) {
    checkCancelled(task)
    named.push({ name, whole, bytes: await readWhole(path) })
  }
  const read = await readKind(asset, named, task)
  kept.push({ key, read })
  if (kept.length > mostKept) kept.shift()
  return read
}

async function readKind(
  asset: PlacedAsset['asset'],
  files: readonly (NamedBytes & { readonly whole: string })[],
  task: Task | undefined,
): Promise<ReadAsset> {
  const first = files[0]
  if (first === undefined) return { views: [], findings: [] }
  switch (asset.kind) {
    case 'views':
      return readSequence(files, task)
    case 'heights':
      return { views: [heightsFrom(await readPng(first.bytes, first.name))], findings: [] }
    case 'model': {
      const folder = posix.dirname(first.whole)
      const beside: Beside = uri =>
        (
          files.find(one => one.whole === posix.join(folder, uri)) ??
          files.find(one => one.name === posix.basename(uri))
        )?.bytes ?? null
      const { model, findings } = await readGltf(first.bytes, first.name, beside)
      return { views: objectViews(model, asset.turning, drawnSide, task).views, findings }
    }
  }
}

async function stateOf({ path }: { readonly path: string }): Promise<readonly unknown[]> {
  const info = await stat(path).catch(() => null)
  return [path, info?.size, info?.mtimeMs]
}

/** A view as a page shows it, longest side at most `longest`: light as sRGB values, heights as they are. */
export function viewPicture({ width, height, data }: ViewImage, longest: number): Picture {
  const scale = Math.min(1, longest / Math.max(width, height))
  const [wide, high] = [Math.max(1, Math.round(width * scale)), Math.max(1, Math.round(height * scale))]
  const heights = data instanceof Uint16Array
  const rgba = new Uint8Array(wide * high * 4).fill(255)
  for (let y = 0; y < high; y++)
    for (let x = 0; x < wide; x++) {
      const [left, right] = [Math.floor((x * width) / wide), Math.ceil(((x + 1) * width) / wide)]
      const [top, bottom] = [Math.floor((y * height) / high), Math.ceil(((y + 1) * height) / high)]
      let sum = 0
      for (let j = top; j < bottom; j++) for (let i = left; i < right; i++) sum += data[j * width + i]!
      const mean = sum / ((right - left) * (bottom - top)) / (heights ? 65535 : 255)
      rgba.fill(Math.round(255 * (heights ? mean : encode(mean))), 4 * (y * wide + x), 4 * (y * wide + x) + 3)
    }
  return { width: wide, height: high, rgba }
}
