import { channelVector } from '../effects/views.ts'
import type { MaterialMap, ViewSet } from './map.ts'
import { PlaneReader } from './plane.ts'

/** Planes of views: number of the set + 1 (0: none), and a byte a view, `viewBytes` of them; both are tiled alike. */
export const viewSetPlane = 'viewSet'
export const viewsPlane = 'views'

/** Sets that a map holds. */
export const mostViewSets = 255

/** Bytes a pixel that the views of these sets take: the most views of a set, in fours. */
export function viewBytes(sets: readonly Pick<ViewSet, 'channels'>[]): number {
  return 4 * Math.ceil(Math.max(0, ...sets.map(set => set.channels.length)) / 4)
}

/** A view's grating, as a pixel has it. */
export interface ViewGrating {
  /** Unit grating vector, and cycles/nm. */
  gx: number
  gy: number
  k: number
  /** Deviations of the vector along and across itself, cycles/nm, and their covariance. */
  along: number
  across: number
  covariance: number
}

/** Finds the views of a pixel. */
export class ViewReader {
  readonly #map: MaterialMap
  readonly #sets: readonly ViewSet[]
  readonly #ids: PlaneReader
  readonly #bytes: PlaneReader
  readonly #vector: [number, number] = [0, 0]
  #at = -1
  #x = 0
  #y = 0
  /** The set at the pixel, or null. */
  set: ViewSet | null = null
  /** Whether the whole map is without views. */
  readonly none: boolean

  constructor(map: MaterialMap) {
    this.#map = map
    this.#sets = map.viewSets ?? []
    this.none = this.#sets.length === 0
    this.#ids = new PlaneReader(map.planes.get(viewSetPlane), map.width)
    this.#bytes = new PlaneReader(map.planes.get(viewsPlane), map.width)
  }

  /** Views at a pixel; 0 where there are none. */
  open(x: number, y: number): number {
    this.set = null
    const id = this.#ids.at(x, y)
    if (id < 0 || this.#ids.data[id] === 0) return 0
    this.set = this.#sets[this.#ids.data[id]! - 1]!
    this.#at = this.#bytes.at(x, y)
    this.#x = ((x + 0.5) / this.#map.width) * this.#map.widthMm
    this.#y = (1 - (y + 0.5) / this.#map.height) * this.#map.heightMm
    return this.set.channels.length
  }

  /** Area share of view i at the open pixel, 0..1. */
  share(i: number): number {
    const set = this.set!
    return (this.#bytes.data[this.#at + i]! / 255) * (set.share / set.channels.length)
  }

  /** Its grating in the middle of the pixel; returns `out`. */
  grating(i: number, out: ViewGrating): ViewGrating {
    const set = this.set!
    const [kx, ky] = channelVector(set.channels[i]!, set, this.#x, this.#y, this.#vector)
    const size = Math.sqrt(kx * kx + ky * ky)
    const gx = kx / size
    const gy = ky / size
    const { spreadXX, spreadXY, spreadYY } = set
    out.gx = gx
    out.gy = gy
    out.k = size / 1000
    out.along =
      Math.sqrt(Math.max(0, spreadXX * gx * gx + 2 * spreadXY * gx * gy + spreadYY * gy * gy)) / 1000
    out.across =
      Math.sqrt(Math.max(0, spreadXX * gy * gy - 2 * spreadXY * gx * gy + spreadYY * gx * gx)) / 1000
    out.covariance = ((spreadYY - spreadXX) * gx * gy + spreadXY * (gx * gx - gy * gy)) / 1e6
    return out
  }
}

export const emptyViewGrating = (): ViewGrating => ({
  gx: 1,
  gy: 0,
  k: 0.001,
  along: 0,
  across: 0,
  covariance: 0,
})
