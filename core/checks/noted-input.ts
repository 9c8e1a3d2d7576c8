import type { MapPlane, MaterialMap } from '../material/map.ts'
import type { CheckInput, Keep } from './input.ts'
import { partName } from './input-words.ts'
import { type MapPart, planeWithin } from './map-part.ts'

/** The same input, which tells what of it is read by the names of `InputWords`. */
export function noted(
  input: CheckInput,
  read: (what: string) => void,
  keep: Keep,
  part: MapPart | null,
): CheckInput {
  const map = notedMap(input.map, read, part)
  const limits = new Proxy(input.limits, {
    get: (own, key) => {
      if (typeof key === 'string') read(`limit ${key}`)
      return Reflect.get(own, key)
    },
    has: (own, key) => {
      if (typeof key === 'string') read(`limit ${key}`)
      return Reflect.has(own, key)
    },
    getOwnPropertyDescriptor: (own, key) => {
      if (typeof key === 'string') read(`limit ${key}`)
      return Reflect.getOwnPropertyDescriptor(own, key)
    },
    ownKeys: own => {
      read('limits')
      return Reflect.ownKeys(own)
    },
  })
  const made = notedFields<CheckInput>({ map, limits, keep }, input, ['marked'], read)
  owners.set(keep, made)
  return made
}

const owners = new WeakMap<Keep, object>()

/** Whether an input is the one that was made with this, not a copy that may say something else. */
export const isOwner = (keep: Keep, input: object): boolean => owners.get(keep) === input

/** Loops over pixels read these: they stay plain fields, and count as read. */
const sizes = ['width', 'height', 'pixelsPerMm', 'widthMm', 'heightMm'] as const

function notedMap(map: MaterialMap, read: (what: string) => void, part: MapPart | null): MaterialMap {
  for (const size of sizes) read(`map ${size}`)
  const { width, height, pixelsPerMm, widthMm, heightMm } = map
  const planes = new NotedPlanes(map, read, part)
  const plain = { width, height, pixelsPerMm, widthMm, heightMm, planes }
  return notedFields(plain, map, ['viewSets', 'print'], key => read(`map ${key}`))
}

/** @param absent fields that may be left out, and be there another time */
function notedFields<T extends object>(
  plain: Partial<T>,
  from: T,
  absent: readonly (keyof T & string)[],
  read: (field: string) => void,
): T {
  const fields = new Set([...(Object.keys(from) as (keyof T & string)[]), ...absent])
  const getters = [...fields]
    .filter(key => !(key in plain))
    .map(key => {
      const get = () => {
        read(key)
        return from[key]
      }
      return [key, { enumerable: true, get }] as const
    })
  return Object.defineProperties(plain, Object.fromEntries(getters)) as T
}

/** Planes that tell which of them are asked for; of a part of the map nothing is there beyond it. */
class NotedPlanes extends Map<string, MapPlane> {
  readonly #map: MaterialMap
  readonly #read: (what: string) => void
  readonly #part: MapPart | null
  /** Planes that were cut. */
  readonly #cut = new Set<string>()

  constructor(map: MaterialMap, read: (what: string) => void, part: MapPart | null) {
    super()
    for (const [name, plane] of map.planes) this.set(name, plane)
    this.#map = map
    this.#read = read
    this.#part = part
  }

  override get(name: string): MapPlane | undefined {
    this.#note(name)
    return super.get(name)
  }

  #note(name: string): void {
    if (this.#part === null) {
      this.#read(`plane ${name}`)
      return
    }
    this.#read(partName(name, this.#part))
    const plane = super.get(name)
    if (plane === undefined || this.#cut.has(name)) return
    this.#cut.add(name)
    this.set(name, planeWithin(plane, this.#map, this.#part))
  }

  override has(name: string): boolean {
    this.#read('planes')
    return super.has(name)
  }

  override keys(): MapIterator<string> {
    this.#read('planes')
    return super.keys()
  }

  override entries(): MapIterator<[string, MapPlane]> {
    this.#read('planes')
    for (const name of [...super.keys()]) this.#note(name)
    return super.entries()
  }

  override values(): MapIterator<MapPlane> {
    this.entries()
    return super.values()
  }

  override forEach(each: (plane: MapPlane, name: string, map: Map<string, MapPlane>) => void): void {
    for (const [name, plane] of this.entries()) each(plane, name, this)
  }

  override [Symbol.iterator](): MapIterator<[string, MapPlane]> {
    return this.entries()
  }
}
