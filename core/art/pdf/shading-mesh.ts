import type { Matrix } from '../ink/mark.ts'
import { sampleAt } from './function-sampled.ts'
import { MeshBuilder } from './mesh-builder.ts'
import { addPatch, coonsInside, type Patch } from './shading-patch.ts'
import type { Mesh } from './shading-triangles.ts'

/** What a mesh's dictionary says of its data. */
export interface MeshWords {
  readonly type: 4 | 5 | 6 | 7
  readonly coordinateBits: number
  readonly componentBits: number
  readonly flagBits: number
  readonly perRow: number
  /** Numbers of a colour. */
  readonly components: number
  readonly decode: readonly number[]
}

/**
 * Corners and triangles of a mesh (types 4 to 7), as far as its data go; patches become triangles that are small beside
 * them. Null: there are more than 2 million. Source: ISO 32000-2, 8.7.4.5.5 to 8.7.4.5.8.
 */
export function readMesh(bytes: Uint8Array, words: MeshWords, matrix: Matrix): Mesh | null {
  const builder = new MeshBuilder(words.components, matrix)
  const reader = new MeshReader(bytes, words)
  switch (words.type) {
    case 4:
      readFree(reader, builder)
      break
    case 5:
      readLattice(reader, builder, words.perRow)
      break
    case 6:
    case 7:
      readPatches(reader, builder, words.type)
      break
  }
  return builder.isFull ? null : builder.mesh()
}

class MeshReader {
  #bit = 0
  readonly #bytes: Uint8Array
  readonly #words: MeshWords

  constructor(bytes: Uint8Array, words: MeshWords) {
    this.#bytes = bytes
    this.#words = words
  }

  /** Whether so many flags, points and colours are still there. */
  has(flags: 0 | 1, points: number, colors: number): boolean {
    const { flagBits, coordinateBits, componentBits, components } = this.#words
    const needed = flags * flagBits + points * 2 * coordinateBits + colors * components * componentBits
    return this.#bit + needed <= this.#bytes.length * 8
  }

  flag(): number {
    const { flagBits } = this.#words
    return this.#read(flagBits) & 3
  }

  point(): readonly [number, number] {
    return [this.#spread(this.#words.coordinateBits, 0), this.#spread(this.#words.coordinateBits, 1)]
  }

  color(): readonly number[] {
    return Array.from({ length: this.#words.components }, (_, i) =>
      this.#spread(this.#words.componentBits, 2 + i),
    )
  }

  /** Each corner or patch begins with a byte. */
  align(): void {
    this.#bit = Math.ceil(this.#bit / 8) * 8
  }

  #read(bits: number): number {
    const value = sampleAt(this.#bytes, this.#bit, bits)
    this.#bit += bits
    return value
  }

  #spread(bits: number, pair: number): number {
    const low = this.#words.decode[2 * pair]!
    const high = this.#words.decode[2 * pair + 1]!
    return low + (this.#read(bits) / (2 ** bits - 1)) * (high - low)
  }
}

function readFree(reader: MeshReader, builder: MeshBuilder): void {
  let last: readonly number[] = []
  const corner = (): number => {
    const [x, y] = reader.point()
    const number = builder.corner(x, y, reader.color())
    reader.align()
    return number
  }
  while (reader.has(1, 1, 1) && !builder.isFull) {
    const flag = reader.flag()
    const first = corner()
    if (flag === 0 || last.length < 3) {
      const all = [first]
      while (all.length < 3) {
        if (!reader.has(1, 1, 1)) return
        reader.flag()
        all.push(corner())
      }
      last = all
    } else last = flag === 1 ? [last[1]!, last[2]!, first] : [last[0]!, last[2]!, first]
    builder.triangle(last[0]!, last[1]!, last[2]!)
  }
}

function readLattice(reader: MeshReader, builder: MeshBuilder, perRow: number): void {
  let above: readonly number[] = []
  while (!builder.isFull) {
    const row: number[] = []
    while (row.length < perRow) {
      if (!reader.has(1, 1, 1)) return
      const [x, y] = reader.point()
      row.push(builder.corner(x, y, reader.color()))
      reader.align()
    }
    for (let i = 0; i + 1 < perRow && above.length > 0; i++) {
      builder.triangle(above[i]!, above[i + 1]!, row[i]!)
      builder.triangle(above[i + 1]!, row[i + 1]!, row[i]!)
    }
    above = row
  }
}

/** Places of the 16 points, row by row from below, in the order of the data. */
const order = [0, 4, 8, 12, 13, 14, 15, 11, 7, 3, 2, 1, 5, 9, 10, 6]
/** The edge that a patch shares with the one before: where its first four points were there, and its first two colours. */
const shared = [
  { points: [12, 13, 14, 15], colors: [1, 2] },
  { points: [15, 11, 7, 3], colors: [2, 3] },
  { points: [3, 2, 1, 0], colors: [3, 0] },
] as const

function readPatches(reader: MeshReader, builder: MeshBuilder, type: 6 | 7): void {
  const all = type === 6 ? 12 : 16
  let before: Patch | null = null
  while (!builder.isFull) {
    if (!reader.has(1, 0, 0)) return
    const said = reader.flag()
    const flag = before === null ? 0 : said
    const edge = flag === 0 ? null : shared[flag - 1]!
    const points: (readonly [number, number])[] = Array.from({ length: 16 }, () => [0, 0] as const)
    const colors: (readonly number[])[] = []
    if (edge !== null && before !== null) {
      const { points: old, colors: oldColors }: Patch = before
      for (const [i, from] of edge.points.entries()) points[order[i]!] = old[from]!
      for (const from of edge.colors) colors.push(oldColors[from]!)
    }
    const first = edge === null ? 0 : 4
    if (!reader.has(0, all - first, 4 - colors.length)) return
    for (let i = first; i < all; i++) points[order[i]!] = reader.point()
    while (colors.length < 4) colors.push(reader.color())
    reader.align()
    const patch: Patch = { points: type === 6 ? coonsInside(points) : points, colors }
    addPatch(builder, patch)
    before = patch
  }
}
