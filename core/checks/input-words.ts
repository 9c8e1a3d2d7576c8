import type { MapPlane, MaterialMap, PlaneData } from '../material/map.ts'
import type { CheckInput } from './input.ts'
import type { MapPart } from './map-part.ts'

/**
 * Words for what a check can read of its input, by names: a field as `scene`, `map whites`, `plane C`, `limit KEY`. Equal
 * words, equal content; each is made once. Planes are written over in place as a map follows edits, so they go by content;
 * files and tables by identity.
 */
export class InputWords {
  readonly #input: CheckInput
  readonly #made = new Map<string, unknown>()

  constructor(input: CheckInput) {
    this.#input = input
  }

  of(what: string): unknown {
    if (!this.#made.has(what)) this.#made.set(what, this.#make(what))
    return this.#made.get(what)
  }

  is(what: string, word: unknown): boolean {
    const now = this.of(what)
    return Array.isArray(now) && Array.isArray(word)
      ? now.length === word.length && now.every((one, i) => one === word[i])
      : now === word
  }

  #make(what: string): unknown {
    const { map, limits } = this.#input
    const [first, ...rest] = what.split(' ')
    const name = rest.join(' ')
    switch (first) {
      case 'plane':
        return planeWord(map.planes.get(name))
      case 'part': {
        const [left, top, right, bottom] = rest.slice(0, 4).map(Number) as [number, number, number, number]
        return partWord(map.planes.get(rest.slice(4).join(' ')), map, { left, top, right, bottom })
      }
      case 'planes':
        return JSON.stringify([...map.planes.keys()])
      case 'limit':
        return JSON.stringify(limits[name])
      case 'map':
        // A print condition is large and is read once a file: it is told by being the same one.
        if (name === 'print') return map.print
        return JSON.stringify(map[name as keyof typeof map])
      case 'corners':
        return JSON.stringify([...this.#input.corners])
      case 'art':
      case 'file':
      case 'sets':
        return this.#input[first]
      default:
        return JSON.stringify(this.#input[what as keyof CheckInput])
    }
  }
}

/** Name of a plane of which no more is read than a part. */
export const partName = (plane: string, { left, top, right, bottom }: MapPart): string =>
  `part ${left} ${top} ${right} ${bottom} ${plane}`

/** A word for what a plane holds in a part of its map, in whatever order its blocks lie. */
export function partWord(
  plane: MapPlane | undefined,
  { width }: Pick<MaterialMap, 'width'>,
  { left, top, right, bottom }: MapPart,
): string {
  if (plane === undefined) return 'none'
  const { layout, components, data } = plane
  const hash = new Hash()
  if (plane.layout === 'full')
    for (let y = top; y < bottom; y++)
      hash.add(data.subarray((y * width + left) * components, (y * width + right) * components))
  else {
    const { tile, index } = plane
    const perRow = Math.ceil(width / tile)
    for (let y = top; y < bottom; y++)
      for (let from = left; from < right; ) {
        const x = Math.floor(from / tile)
        const to = Math.min(right, (x + 1) * tile)
        const block = index[Math.floor(y / tile) * perRow + x]!
        const line = (block * tile + (y % tile)) * tile - x * tile
        hash.add(block < 0 ? nothing : data.subarray((line + from) * components, (line + to) * components))
        from = to
      }
  }
  return `${layout} ${components} ${hash.word}`
}

const nothing = Uint8Array.of(1)

/** A word for what a plane holds; blocks of tiles in another order have another word. */
export function planeWord(plane: MapPlane | undefined): string {
  if (plane === undefined) return 'none'
  const { layout, components, data } = plane
  const index = plane.layout === 'tiles' ? hashed(plane.index) : ''
  return `${layout} ${components} ${data.length} ${index} ${hashed(data)}`
}

/**
 * 64 bits of FNV-1a over words of four bytes with two offsets, the second with shifts between, so that high bits count.
 * Fowler, Noll & Vo; the prime is that of draft-eastlake-fnv.
 */
class Hash {
  #a = 0x811c9dc5
  #b = 0x9e3779b9

  add(data: PlaneData | Int32Array): void {
    const { buffer, byteOffset, byteLength } = data
    // Planes have arrays of their own, which begin at a whole word; what is left at the end counts byte by byte.
    const whole = byteOffset % 4 === 0 ? new Int32Array(buffer, byteOffset, byteLength >> 2) : data
    const rest = whole === data ? 0 : byteLength & 3
    const bytes = new Uint8Array(buffer, byteOffset + byteLength - rest, rest)
    let [a, b] = [this.#a, this.#b]
    for (const words of [whole, bytes])
      for (let i = 0; i < words.length; i++) {
        const value = words[i]!
        a = Math.imul(a ^ value, 0x01000193)
        b = Math.imul(b ^ value, 0x01000193)
        b ^= b >>> 15
      }
    this.#a = a
    this.#b = b
  }

  get word(): string {
    return [this.#a, this.#b].map(part => (part >>> 0).toString(16)).join('-')
  }
}

function hashed(data: PlaneData | Int32Array): string {
  const hash = new Hash()
  hash.add(data)
  return hash.word
}
