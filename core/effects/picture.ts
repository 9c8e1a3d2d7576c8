import { decode } from '../color/rgb.ts'
import type { ViewImage } from './view-image.ts'

/** A rectangle of the panel, mm from its lower left corner, y up. */
export interface PlaceMm {
  readonly leftMm: number
  readonly bottomMm: number
  readonly widthMm: number
  readonly heightMm: number
}

/** Numbers over a rectangle of the panel, rows from the top; 0 around it. */
export class Raster {
  readonly #scale: number

  /** @param data `width × height` numbers: whole ones 0..65535 stand for 0..1, floats for themselves */
  constructor(
    readonly place: PlaceMm,
    readonly width: number,
    readonly height: number,
    readonly data: Uint16Array | Float32Array,
  ) {
    this.#scale = data instanceof Uint16Array ? 1 / 65535 : 1
  }

  /** Straight between the middles of the four samples around a place of the panel, mm. */
  at(xMm: number, yMm: number): number {
    const { leftMm, bottomMm, widthMm, heightMm } = this.place
    const x = ((xMm - leftMm) / widthMm) * this.width - 0.5
    const y = (1 - (yMm - bottomMm) / heightMm) * this.height - 0.5
    if (!(x > -1 && y > -1 && x < this.width && y < this.height)) return 0
    const left = Math.floor(x)
    const top = Math.floor(y)
    const right = x - left
    const down = y - top
    const upper = (1 - right) * this.#get(left, top) + right * this.#get(left + 1, top)
    const lower = (1 - right) * this.#get(left, top + 1) + right * this.#get(left + 1, top + 1)
    return this.#scale * ((1 - down) * upper + down * lower)
  }

  #get(x: number, y: number): number {
    const inside = x >= 0 && y >= 0 && x < this.width && y < this.height
    return inside ? this.data[y * this.width + x]! : 0
  }
}

/** A layer, channel or file as effects see it. */
export interface Picture {
  /** How much is painted, 0..1. */
  readonly cover: Raster
  /** Lightness as drawn times cover, 0..1; a channel has no colour and counts as light where it is painted. */
  readonly light: Raster
}

/** Which parts of a picture send light. */
export const readings = ['painted', 'light', 'dark'] as const
export type Reading = (typeof readings)[number]

/** Light that a picture sends at each place, 0..1 and linear, as a raster of its own. */
export function shining({ cover, light }: Picture, reading: Reading): Raster {
  if (reading === 'painted') return cover
  const data = Uint16Array.from(light.data, (lit, i) => {
    const painted = cover.data[i]!
    if (painted === 0) return 0
    const lightness = Math.min(1, lit / painted)
    return Math.round(painted * decode(reading === 'light' ? lightness : 1 - lightness))
  })
  return new Raster(cover.place, cover.width, cover.height, data)
}

/** A view from a file, stretched over a rectangle. */
export function imageRaster(image: ViewImage, place: PlaceMm): Raster {
  const { width, height, data } = image
  const words = data instanceof Uint16Array ? data : Uint16Array.from(data, v => v * 257)
  return new Raster(place, width, height, words)
}

/** The largest rectangle of an image's proportions around a point inside width × height mm, times `scale`. */
export function fitted(
  image: Pick<ViewImage, 'width' | 'height'>,
  around: { readonly xMm: number; readonly yMm: number; readonly widthMm: number; readonly heightMm: number },
  scale: number,
): PlaceMm {
  const size = scale * Math.min(around.widthMm / image.width, around.heightMm / image.height)
  const widthMm = size * image.width
  const heightMm = size * image.height
  return { leftMm: around.xMm - widthMm / 2, bottomMm: around.yMm - heightMm / 2, widthMm, heightMm }
}

/** The rectangle around several; null around none. */
export function around(places: readonly PlaceMm[]): PlaceMm | null {
  const [first, ...rest] = places
  if (!first) return null
  return rest.reduce((all, one) => {
    const leftMm = Math.min(all.leftMm, one.leftMm)
    const bottomMm = Math.min(all.bottomMm, one.bottomMm)
    return {
      leftMm,
      bottomMm,
      widthMm: Math.max(all.leftMm + all.widthMm, one.leftMm + one.widthMm) - leftMm,
      heightMm: Math.max(all.bottomMm + all.heightMm, one.bottomMm + one.heightMm) - bottomMm,
    }
  }, first)
}

/** A rectangle with `mm` more on every side. */
export function grown(place: PlaceMm, mm: number): PlaceMm {
  return {
    leftMm: place.leftMm - mm,
    bottomMm: place.bottomMm - mm,
    widthMm: place.widthMm + 2 * mm,
    heightMm: place.heightMm + 2 * mm,
  }
}

/** A raster blurred by a Gaussian, mm, as floats and with room for the blur around it; 0 or less leaves it as it is. */
export function smoothed(raster: Raster, deviationMm: number): Raster {
  const stepX = raster.place.widthMm / raster.width
  const stepY = raster.place.heightMm / raster.height
  const marginX = Math.ceil((reach * Math.max(0, deviationMm)) / stepX)
  const marginY = Math.ceil((reach * Math.max(0, deviationMm)) / stepY)
  const width = raster.width + 2 * marginX
  const height = raster.height + 2 * marginY
  let data = new Float32Array(width * height)
  const unit = raster.data instanceof Uint16Array ? 1 / 65535 : 1
  for (let y = 0; y < raster.height; y++)
    for (let x = 0; x < raster.width; x++)
      data[(y + marginY) * width + x + marginX] = unit * raster.data[y * raster.width + x]!
  if (marginX > 0) data = along(data, width, height, 1, width, bell(deviationMm / stepX))
  if (marginY > 0) data = along(data, height, width, width, 1, bell(deviationMm / stepY))
  const place = {
    leftMm: raster.place.leftMm - marginX * stepX,
    bottomMm: raster.place.bottomMm - marginY * stepY,
    widthMm: width * stepX,
    heightMm: height * stepY,
  }
  return new Raster(place, width, height, data)
}

/** Deviations after which a blur is cut: 1 % of the middle is left there. */
const reach = 3

/** Weights of a Gaussian from its middle outwards, summing to one over both sides; deviation in samples. */
function bell(deviation: number): Float64Array {
  const half = Math.ceil(reach * deviation)
  const weights = Float64Array.from({ length: half + 1 }, (_, i) => Math.exp((-i * i) / (2 * deviation ** 2)))
  const sum = weights.reduce((all, w, i) => all + (i === 0 ? w : 2 * w), 0)
  return weights.map(w => w / sum)
}

/** Blurs lines of `length` samples, `step` apart, `lines` of them `next` apart; beyond their ends is 0. */
function along(
  data: Float32Array,
  length: number,
  lines: number,
  step: number,
  next: number,
  weights: Float64Array,
): Float32Array<ArrayBuffer> {
  const out = new Float32Array(data.length)
  for (let line = 0; line < lines; line++)
    for (let i = 0; i < length; i++) {
      const at = line * next + i * step
      let sum = weights[0]! * data[at]!
      for (let k = 1; k < weights.length; k++) {
        if (i >= k) sum += weights[k]! * data[at - k * step]!
        if (i + k < length) sum += weights[k]! * data[at + k * step]!
      }
      out[at] = sum
    }
  return out
}
