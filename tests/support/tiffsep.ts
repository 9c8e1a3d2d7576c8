import { execFileSync } from 'node:child_process'
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { hasTool } from './tools.ts'

/** The reference: a separation renderer of the system. What asks it is skipped by name where it is missing. */
export const hasTiffsep = hasTool('gs', '--version')

const profile = new URL('../../core/data/icc/ISOcoated_v2_300_bas.icc', import.meta.url).pathname

export interface SeparatedPage {
  readonly width: number
  readonly height: number
  /** By name of the ink; 255 is solid. Rows from the top. */
  readonly planes: ReadonlyMap<string, Uint8Array>
}

/**
 * The first page as the reference separates it: its bleed box where it has one, edges softened over a pixel by 4 × 4
 * squares of it. CMYK stays as it is; other colours go by the print condition that ships with the project.
 */
export function tiffsep(
  pdf: Uint8Array,
  ppi: number,
  box: 'bleed' | 'trim' | 'media' = 'media',
): SeparatedPage {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-tiffsep-'))
  try {
    writeFileSync(join(folder, 'page.pdf'), pdf)
    execFileSync(
      'gs',
      [
        ...['-q', '-dSAFER', '-dBATCH', '-dNOPAUSE', '-sDEVICE=tiffsep', '-sCompression=none'],
        ...[`-r${ppi * 4}`, '-dDownScaleFactor=4', '-dFirstPage=1', '-dLastPage=1'],
        ...(box === 'media' ? [] : [box === 'trim' ? '-dUseTrimBox' : '-dUseBleedBox']),
        ...[
          `-sDefaultCMYKProfile=${profile}`,
          `-sOutputICCProfile=${profile}`,
          `--permit-file-read=${profile}`,
        ],
        ...[`-sOutputFile=${join(folder, 'out.tif')}`, join(folder, 'page.pdf')],
      ],
      { stdio: ['ignore', 'pipe', 'pipe'], timeout: 60_000 },
    )
    const planes = new Map<string, Uint8Array>()
    let size = { width: 0, height: 0 }
    for (const file of readdirSync(folder)) {
      const name = /^out\((.*)\)\.tif$/s.exec(file)?.[1]
      if (name === undefined) continue
      const { data, ...own } = readGrey(readFileSync(join(folder, file)))
      size = own
      planes.set(name, data)
    }
    return { ...size, planes }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

/** A grey TIFF of 8 bits, unpacked, as coverage: in it 0 is black. Source: TIFF revision 6.0, section 4. */
function readGrey(file: Uint8Array): { width: number; height: number; data: Uint8Array } {
  const view = new DataView(file.buffer, file.byteOffset, file.length)
  const little = file[0] === 0x49
  const at = view.getUint32(4, little)
  const entry = (tag: number): readonly number[] => {
    for (let i = 0; i < view.getUint16(at, little); i++) {
      const place = at + 2 + 12 * i
      if (view.getUint16(place, little) !== tag) continue
      const long = view.getUint16(place + 2, little) === 4
      const count = view.getUint32(place + 4, little)
      const from = count * (long ? 4 : 2) <= 4 ? place + 8 : view.getUint32(place + 8, little)
      return Array.from({ length: count }, (_, k) =>
        long ? view.getUint32(from + 4 * k, little) : view.getUint16(from + 2 * k, little),
      )
    }
    return []
  }
  const [width] = entry(256)
  const [height] = entry(257)
  const [bits] = entry(258)
  const [packing] = entry(259)
  if (bits !== 8 || (packing ?? 1) !== 1)
    throw new Error(`tiffsep: expected 8 bits unpacked, got ${bits} bits, packing ${packing}`)
  const whiteIsZero = entry(262)[0] === 0
  const data = new Uint8Array(width! * height!)
  let to = 0
  const lengths = entry(279)
  for (const [i, from] of entry(273).entries()) {
    data.set(file.subarray(from, from + lengths[i]!), to)
    to += lengths[i]!
  }
  return { width: width!, height: height!, data: whiteIsZero ? data : data.map(value => 255 - value) }
}

/** How a plane compares with the reference. */
export interface PlaneDifference {
  /** Largest difference away from edges, 0..255. */
  readonly largest: number
  /** Where: x, y, pixels; null where there is none. */
  readonly at: readonly [x: number, y: number] | null
  /** Mean difference of all pixels and of those away from edges, 0..255. */
  readonly mean: number
  readonly meanInside: number
}

/**
 * Pixels that lie at an edge of any ink of the reference, 1 each: within `reach` pixels there is a step larger than
 * `step`. How an edge is softened, each renderer has its own way, and where one ink ends another may begin.
 */
export function edgePixels(
  { width, height, planes }: SeparatedPage,
  { step = 16, reach = 2 }: { readonly step?: number; readonly reach?: number } = {},
): Uint8Array {
  const edges = new Uint8Array(width * height)
  const [low, high] = [new Uint8Array(width * height), new Uint8Array(width * height)]
  for (const plane of planes.values()) {
    // Least and most along rows, then of those along columns.
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        const part = plane.subarray(
          y * width + Math.max(0, x - reach),
          y * width + Math.min(width, x + reach + 1),
        )
        low[y * width + x] = Math.min(...part)
        high[y * width + x] = Math.max(...part)
      }
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        let [least, most] = [255, 0]
        for (let v = Math.max(0, y - reach); v <= Math.min(height - 1, y + reach); v++) {
          least = Math.min(least, low[v * width + x]!)
          most = Math.max(most, high[v * width + x]!)
        }
        if (most - least > step) edges[y * width + x] = 1
      }
  }
  return edges
}

/** Compares planes of one size, edges (1) aside. */
export function comparePlanes(
  ours: Uint8Array,
  reference: Uint8Array,
  width: number,
  edges: Uint8Array,
): PlaneDifference {
  if (ours.length !== reference.length)
    throw new RangeError(`comparePlanes: expected ${reference.length} samples, got ${ours.length}`)
  let [largest, sum, sumInside, inside] = [0, 0, 0, 0]
  let at: [number, number] | null = null
  for (let i = 0; i < reference.length; i++) {
    const difference = Math.abs(ours[i]! - reference[i]!)
    sum += difference
    if (edges[i] === 1) continue
    inside++
    sumInside += difference
    if (difference > largest) {
      largest = difference
      at = [i % width, Math.floor(i / width)]
    }
  }
  return {
    largest,
    at,
    mean: sum / reference.length,
    meanInside: inside === 0 ? 0 : sumInside / inside,
  }
}
