import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { distances } from './distance.ts'
import type { GlyphSource, PixelBox } from './raster.ts'
import type { Plates } from './view.ts'

/** A pixel of the map as it would be if all of it were glyph, or none. */
export interface PurePixel {
  readonly column: number
  readonly row: number
  readonly plates: Plates
  /** Area that it stands for, mm². */
  readonly areaMm2: number
}

/** What an object prints, and what lies in a ring around its glyphs. */
export interface Matter {
  readonly ink: readonly PurePixel[]
  readonly ground: readonly PurePixel[]
  /** Means over the area of each. */
  readonly inkMean: Plates
  readonly groundMean: Plates
}

/** Parts of a map's pixel that count as all glyph and as none. */
const all = 0.98
const none = 0.02
/** Pixels whose part is less say too little of the glyphs. */
const some = 0.1

/**
 * What lies under the glyphs and around them. The map holds means over its pixels, so strokes narrower than a pixel
 * are mixed with their ground there: where some pixels are wholly glyph these are taken, elsewhere the object's one
 * ink is found from how the mixture changes with the glyph's part of it. The ground is taken from pixels of the ring
 * without any glyph. Null where there is no glyph, no ring, or neither on the panel.
 * @param box    the map's pixels that the object touches
 * @param ringMm how far the ring reaches
 * @param mostPixels that are looked at of glyphs, and of ground; of more they are taken evenly
 */
export function matterOf(
  map: MaterialMap,
  glyphs: GlyphSource,
  box: PixelBox,
  ringMm: number,
  mostPixels: number,
): Matter | null {
  const reach = Math.max(2, Math.ceil(ringMm * map.pixelsPerMm))
  const wide: PixelBox = {
    left: Math.max(0, box.left - reach),
    top: Math.max(0, box.top - reach),
    right: Math.min(map.width, box.right + reach),
    bottom: Math.min(map.height, box.bottom + reach),
  }
  const width = wide.right - wide.left
  const height = wide.bottom - wide.top
  if (width <= 0 || height <= 0) return null
  const shares = glyphs.shares(wide)
  const near = ringOf(shares, width, height, reach)
  const plane = new PlateReader(map)
  const at = (i: number) => [wide.left + (i % width), wide.top + Math.floor(i / width)] as const
  const pixelMm2 = (map.widthMm / map.width) * (map.heightMm / map.height)
  const kinds = shares.map((share, i) =>
    share >= all ? 1 : share > some ? 2 : share <= none && near[i] === 1 ? 3 : 0,
  )
  const chosen = (kind: number): Chosen[] =>
    evenly(kinds, kind, mostPixels).map(({ i, weight }) => {
      const [column, row] = at(i)
      return { column, row, share: shares[i]!, pixels: weight, plates: plane.at(column, row) }
    })
  const pure = (kind: number) =>
    chosen(kind).map(({ column, row, pixels, plates }): PurePixel => {
      return { column, row, plates, areaMm2: pixels * pixelMm2 }
    })
  const full = pure(1)
  const mixed = full.length > 0 ? [] : chosen(2)
  const ground = pure(3)
  if (ground.length === 0 || (full.length === 0 && mixed.length === 0)) return null
  const groundMean = meanOf(ground)
  const ink = full.length > 0 ? full : unmixed(mixed, groundMean, pixelMm2)
  return { ink, ground, inkMean: meanOf(ink), groundMean }
}

/** Pixels without glyph that lie within `reach` pixels of one. */
function ringOf(shares: Float32Array, width: number, height: number, reach: number): Uint8Array {
  const bare = Uint8Array.from(shares, share => (share <= none ? 1 : 0))
  // Distances run from glyphs; a border of glyph around the raster would do so too, so a frame of ground is laid on.
  const margin = reach + 1
  const wide = width + 2 * margin
  const framed = new Uint8Array(wide * (height + 2 * margin)).fill(1)
  for (let y = 0; y < height; y++)
    framed.set(bare.subarray(y * width, (y + 1) * width), (y + margin) * wide + margin)
  const far = distances(framed, wide, height + 2 * margin)
  return bare.map((one, i) => {
    const x = i % width
    const y = Math.floor(i / width)
    return one === 1 && far[(y + margin) * wide + x + margin]! <= reach ? 1 : 0
  })
}

/** A pixel that stands for several, with the glyph's part of it. */
interface Chosen {
  readonly column: number
  readonly row: number
  readonly share: number
  readonly pixels: number
  readonly plates: Plates
}

/** Those of one kind, or so many of them spread evenly, each standing for `weight`. */
function evenly(
  kinds: Float32Array,
  kind: number,
  mostPixels: number,
): readonly { readonly i: number; readonly weight: number }[] {
  let count = 0
  for (const one of kinds) if (one === kind) count++
  const part = Math.min(1, mostPixels / count)
  const out: number[] = []
  let k = 0
  for (let i = 0; i < kinds.length; i++) {
    // Steps of the golden ratio fall nowhere more often than elsewhere, whatever the width of a row.
    if (kinds[i] === kind && (k++ * golden) % 1 < part) out.push(i)
  }
  return out.map(i => ({ i, weight: count / out.length }))
}

const golden = (Math.sqrt(5) - 1) / 2

/** The one ink of an object without a pixel of its own: p = (1 − c)·ground + c·ink by least squares, c being the glyph's part. */
function unmixed(mixed: readonly Chosen[], ground: Plates, pixelMm2: number): readonly PurePixel[] {
  const solve = (read: (plates: Plates) => number): number => {
    let up = 0
    let down = 0
    for (const { plates, share: c } of mixed) {
      up += c * (read(plates) - (1 - c) * read(ground))
      down += c * c
    }
    return Math.min(1, Math.max(0, up / down))
  }
  const plates = mapPlates(ground, (_, read) => solve(read))
  return mixed.map(({ column, row, share, pixels }) => ({
    column,
    row,
    plates,
    areaMm2: share * pixels * pixelMm2,
  }))
}

function meanOf(pixels: readonly PurePixel[]): Plates {
  const total = pixels.reduce((sum, { areaMm2 }) => sum + areaMm2, 0)
  return mapPlates(
    pixels[0]!.plates,
    (_, read) => pixels.reduce((sum, one) => sum + one.areaMm2 * read(one.plates), 0) / total,
  )
}

/** Plates of the same kind, each value made anew; `read` finds it in others. */
export function mapPlates(
  plates: Plates,
  make: (value: number, read: (other: Plates) => number) => number,
): Plates {
  const list = (name: 'inks' | 'spots' | 'whites') =>
    plates[name].map((value, i) => make(value, other => other[name][i]!))
  return {
    metal: make(plates.metal, other => other.metal),
    varnish: make(plates.varnish, other => other.varnish),
    inks: list('inks'),
    spots: list('spots'),
    whites: list('whites'),
  }
}

class PlateReader {
  readonly #metal: PlaneReader
  readonly #varnish: PlaneReader
  readonly #inks: readonly PlaneReader[]
  readonly #spots: readonly PlaneReader[]
  readonly #whites: readonly PlaneReader[]

  constructor(map: MaterialMap) {
    const plane = (name: string | null) =>
      new PlaneReader(name === null ? undefined : map.planes.get(name), map.width)
    this.#metal = plane('metal')
    this.#varnish = plane(map.varnish)
    this.#inks = ['C', 'M', 'Y', 'K'].map(plane)
    this.#spots = map.spots.map(one => plane(one.coverage))
    this.#whites = map.whites.map(one => plane(one.coverage))
  }

  at(column: number, row: number): Plates {
    const one = (plane: PlaneReader): number => {
      const i = plane.at(column, row)
      return i < 0 ? 0 : plane.data[i]! / 255
    }
    return {
      metal: one(this.#metal),
      varnish: one(this.#varnish),
      inks: this.#inks.map(one),
      spots: this.#spots.map(one),
      whites: this.#whites.map(one),
    }
  }
}
