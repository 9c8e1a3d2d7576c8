import type { Surface } from '../art/composite.ts'
import type { ArtFile, Box } from '../art/layer.ts'
import type { Task } from '../base/task.ts'
import { coverageRows } from './coverage.ts'
import type { Coverage, CoverageRows, Need } from './covered.ts'
import { type Grid, under } from './grid.ts'
import { type PackedFloats, packedFloats } from './packed-floats.ts'
import type { AreaSource, MadeSource } from './plates.ts'
import { TileGrid } from './tiles.ts'

const needs: readonly Need[] = ['amount', 'alpha', 'colour']

/** A coverage over the whole document, cut to where it is something. */
export interface Kept {
  /** False: it is nothing anywhere. */
  readonly isThere: boolean
  /** The rows of it that lie in top..bottom, made anew each time; null where there are none. */
  coverage(top: number, bottom: number): Coverage | null
  /** Numbers of the map's tiles where the amount is not zero, in rising order. */
  readonly tiles: readonly number[]
}

/** Bytes that kept coverages may take together. */
const mostBytes = 3 * 2 ** 28
/** Document rows read at once, and bytes of decoded planes kept meanwhile, where a coverage is read on its own. */
const stripRows = 256
const stripKeep = 64 * 2 ** 20

/**
 * Coverages of areas, kept for a map that is edited. What does not fit is read again when it is asked for; what no
 * area has any more goes first.
 */
export class CoverageShelf {
  readonly #file: ArtFile
  readonly #grid: Grid
  readonly #kept = new Map<string, { readonly need: Need; readonly kept: Packed; readonly bytes: number }>()
  readonly #coming = new Map<string, { readonly need: Need; readonly parts: Coverage[] }>()
  #bytes = 0

  constructor(file: ArtFile, grid: Grid) {
    this.#file = file
    this.#grid = grid
  }

  /** The same rows; once all of them were read, `arrived` keeps them. */
  following(source: AreaSource, need: Need, rows: CoverageRows): CoverageRows {
    const key = sourceKey(source)
    const known = this.#coming.get(key)
    if (known && needs.indexOf(known.need) >= needs.indexOf(need)) return rows
    const parts: Coverage[] = []
    this.#coming.set(key, { need, parts })
    return {
      over: async (top, bottom) => {
        const part = await rows.over(top, bottom)
        // Bands of the map may share a document row.
        const from = Math.max(top, parts.at(-1)?.box.bottom ?? top)
        if (part && this.#bytes < mostBytes) {
          const cut = trimmed(part, need, from, bottom)
          if (cut) {
            parts.push(cut)
            this.#bytes += bytesOf(cut)
          }
        } else if (part) this.#coming.delete(key)
        return part
      },
    }
  }

  /** All rows that were followed have been read. */
  arrived(): void {
    for (const [key, { need, parts }] of this.#coming) {
      this.#bytes -= parts.reduce((sum, part) => sum + bytesOf(part), 0)
      this.#put(key, need, this.#whole(parts))
    }
    this.#coming.clear()
  }

  /** The coverage of a source, read where it is not kept. */
  async get(source: AreaSource, need: Need, task?: Task): Promise<Kept> {
    const key = sourceKey(source)
    const known = this.#kept.get(key)
    if (known && needs.indexOf(known.need) >= needs.indexOf(need)) return known.kept
    const { height } = this.#file.art
    const rows = coverageRows(this.#file, source, { rows: stripRows, keep: stripKeep, task }, need)
    const parts: Coverage[] = []
    for (let top = 0; top < height; top += stripRows) {
      const bottom = Math.min(height, top + stripRows)
      const part = await rows.over(top, bottom)
      const cut = part && trimmed(part, need, top, bottom)
      if (cut) parts.push(cut)
    }
    const whole = this.#whole(parts)
    this.#put(key, need, whole)
    return whole
  }

  /** Forgets all coverages but those of these sources. */
  retain(sources: readonly AreaSource[]): void {
    const wanted = new Set(sources.map(sourceKey))
    for (const [key, { bytes }] of this.#kept)
      if (!wanted.has(key)) {
        this.#kept.delete(key)
        this.#bytes -= bytes
      }
  }

  #put(key: string, need: Need, kept: Packed): void {
    this.#bytes -= this.#kept.get(key)?.bytes ?? 0
    this.#kept.delete(key)
    const { bytes } = kept
    if (this.#bytes + bytes > mostBytes) return
    this.#kept.set(key, { need, kept, bytes })
    this.#bytes += bytes
  }

  #whole(parts: readonly Coverage[]): Packed {
    const coverage = joined(parts)
    return coverage === null
      ? { isThere: false, coverage: () => null, tiles: [], bytes: 0 }
      : { isThere: true, ...packed(coverage), tiles: tilesOf(this.#grid, coverage) }
  }
}

interface Packed extends Kept {
  readonly bytes: number
}

/** A coverage in as many bytes as it needs; what comes back is the same, bit by bit. */
function packed({ box, data, surface }: Coverage): Pick<Packed, 'coverage' | 'bytes'> {
  const amount = packedFloats(data)
  const alpha = surface && packedFloats(surface.alpha)
  const planes = surface?.planes.map(packedFloats) ?? []
  return {
    coverage: (top, bottom) => {
      const cut: Box = { ...box, top: Math.max(top, box.top), bottom: Math.min(bottom, box.bottom) }
      if (cut.top >= cut.bottom) return null
      const width = box.right - box.left
      const part = (floats: PackedFloats) =>
        floats.floats((cut.top - box.top) * width, (cut.bottom - box.top) * width)
      return {
        box: cut,
        data: part(amount),
        surface: alpha && { box: cut, planes: planes.map(part), alpha: part(alpha) },
      }
    },
    bytes: [amount, ...(alpha === null ? [] : [alpha]), ...planes].reduce((sum, { bytes }) => sum + bytes, 0),
  }
}

/** Equal for sources that have the same coverage of one file. */
export function sourceKey(source: AreaSource | MadeSource): string {
  switch (source.kind) {
    case 'layers':
      return `layers ${source.layers.map(layer => layer.id).join(' ')} ${JSON.stringify(source.amount)}`
    case 'channel':
      return `channel ${source.channel.id}`
    case 'made':
      return `made ${source.made.key}`
    case 'outline':
      return `outline ${source.widthMm} ${source.heightMm} ${JSON.stringify(source.outline.rings)}`
  }
}

/** The rows from..to of a coverage, cut to where there is something to look at; null when there is nothing. */
function trimmed({ box, data, surface }: Coverage, need: Need, from: number, to: number): Coverage | null {
  const kept = need === 'amount' ? null : surface
  // Under a mask a channel is everywhere.
  const everywhere = need !== 'amount' && surface === null
  const width = box.right - box.left
  const cut = { left: box.right, top: box.bottom, right: box.left, bottom: box.top }
  for (let y = Math.max(from, box.top); y < Math.min(to, box.bottom); y++) {
    const line = (y - box.top) * width
    const filled = (x: number) =>
      everywhere || data[line + x] !== 0 || (kept !== null && kept.alpha[line + x] !== 0)
    let left = 0
    while (left < width && !filled(left)) left++
    if (left === width) continue
    let right = width
    while (!filled(right - 1)) right--
    cut.left = Math.min(cut.left, box.left + left)
    cut.right = Math.max(cut.right, box.left + right)
    cut.top = Math.min(cut.top, y)
    cut.bottom = y + 1
  }
  if (cut.left >= cut.right) return null
  const part = (plane: Float32Array): Float32Array => {
    const out = new Float32Array((cut.right - cut.left) * (cut.bottom - cut.top))
    copyBox(plane, box, out, cut)
    return out
  }
  return {
    box: cut,
    data: part(data),
    surface: kept && {
      box: cut,
      planes: need === 'colour' ? kept.planes.map(part) : [],
      alpha: part(kept.alpha),
    },
  }
}

function joined(parts: readonly Coverage[]): Coverage | null {
  const [first] = parts
  if (first === undefined || parts.length === 1) return first ?? null
  const box: Box = {
    left: Math.min(...parts.map(part => part.box.left)),
    right: Math.max(...parts.map(part => part.box.right)),
    top: Math.min(...parts.map(part => part.box.top)),
    bottom: Math.max(...parts.map(part => part.box.bottom)),
  }
  const all = (plane: (part: Coverage) => Float32Array): Float32Array => {
    const out = new Float32Array((box.right - box.left) * (box.bottom - box.top))
    for (const part of parts) copyBox(plane(part), part.box, out, box)
    return out
  }
  const surface: Surface | null = first.surface && {
    box,
    planes: first.surface.planes.map((_, i) => all(part => part.surface!.planes[i]!)),
    alpha: all(part => part.surface!.alpha),
  }
  return { box, data: all(part => part.data), surface }
}

/** Copies what two boxes share. */
function copyBox(from: Float32Array, at: Box, to: Float32Array, into: Box): void {
  const left = Math.max(at.left, into.left)
  const right = Math.min(at.right, into.right)
  for (let y = Math.max(at.top, into.top); y < Math.min(at.bottom, into.bottom); y++) {
    const line = (y - at.top) * (at.right - at.left) - at.left
    to.set(
      from.subarray(line + left, line + right),
      (y - into.top) * (into.right - into.left) + left - into.left,
    )
  }
}

const bytesOf = ({ data, surface }: Coverage): number =>
  data.byteLength * (1 + (surface === null ? 0 : 1 + surface.planes.length))

function tilesOf(grid: Grid, { box, data }: Coverage): readonly number[] {
  const tiles = new TileGrid(grid.width, grid.height)
  return tiles.all().filter(number => {
    const tile = tiles.box(number)
    const [firstX, endX] = under(grid.columns, tile.left, tile.right)
    const [firstY, endY] = under(grid.rows, tile.top, tile.bottom)
    const left = Math.max(firstX, box.left) - box.left
    const right = Math.min(endX, box.right) - box.left
    for (let y = Math.max(firstY, box.top); y < Math.min(endY, box.bottom); y++) {
      const line = (y - box.top) * (box.right - box.left)
      for (let x = left; x < right; x++) if (data[line + x] !== 0) return true
    }
    return false
  })
}
