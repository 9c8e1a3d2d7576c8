/**
 * Replies with large planes as one run of bytes: a head that is JSON, then the arrays' own bytes.
 *
 * Layout, little-endian: `RLW1`, the head's length in bytes (u32), the head (UTF-8), then blocks, each starting
 * at a multiple of 8 from the start. In the head an array, a Map or a number that JSON lacks is an object with
 * the single key `$`: `["u8", start, length]`, `["map", [[key, value], …]]`, `["number", "NaN"]`; an object that
 * really has the key `$` travels as `["plain", [[key, value], …]]`. Undefined properties are left out, as in JSON.
 */

const magic = 0x31574c52
const blockAlign = 8

const arrayKinds = {
  u8: Uint8Array,
  i8: Int8Array,
  u16: Uint16Array,
  i16: Int16Array,
  u32: Uint32Array,
  i32: Int32Array,
  f32: Float32Array,
  f64: Float64Array,
} as const
type ArrayKind = keyof typeof arrayKinds
type Planes =
  | Uint8Array
  | Int8Array
  | Uint16Array
  | Int16Array
  | Uint32Array
  | Int32Array
  | Float32Array
  | Float64Array

/**
 * Bytes of a value made of plain objects, arrays, Maps, typed arrays, strings, numbers, booleans and null.
 * Throws TypeError, naming the kind, on anything else.
 */
export function encodeWire(value: unknown): Uint8Array<ArrayBuffer> {
  const blocks: Planes[] = []
  const starts = new Map<Planes, number>()
  let end = 0
  const place = (plane: Planes): number => {
    const known = starts.get(plane)
    if (known !== undefined) return known
    const start = aligned(end)
    starts.set(plane, start)
    blocks.push(plane)
    end = start + plane.byteLength
    return start
  }
  const head = new TextEncoder().encode(JSON.stringify(lift(value, place)))
  const base = aligned(8 + head.length)
  const bytes = new Uint8Array(base + end)
  const view = new DataView(bytes.buffer)
  view.setUint32(0, magic, true)
  view.setUint32(4, head.length, true)
  bytes.set(head, 8)
  for (const block of blocks)
    bytes.set(
      new Uint8Array(block.buffer, block.byteOffset, block.byteLength),
      base + (starts.get(block) ?? 0),
    )
  return bytes
}

/**
 * The value behind {@link encodeWire}'s bytes. Its typed arrays are views into `bytes` where alignment allows.
 * Throws TypeError when the bytes are not such a message or a block reaches past the end.
 */
export function decodeWire(bytes: Uint8Array<ArrayBuffer>): unknown {
  // Views of wider numbers need an aligned start; a response body always has one.
  const own = bytes.byteOffset % blockAlign === 0 ? bytes : bytes.slice()
  const view = new DataView(own.buffer, own.byteOffset, own.byteLength)
  if (own.length < 8 || view.getUint32(0, true) !== magic)
    throw new TypeError('reply: expected RLW1, got other bytes')
  const headLength = view.getUint32(4, true)
  if (8 + headLength > own.length) throw new TypeError('reply: cut off inside its head')
  const head: unknown = JSON.parse(new TextDecoder().decode(own.subarray(8, 8 + headLength)))
  return lower(head, own.subarray(aligned(8 + headLength)))
}

const aligned = (at: number): number => Math.ceil(at / blockAlign) * blockAlign

function lift(value: unknown, place: (plane: Planes) => number): unknown {
  switch (typeof value) {
    case 'number':
      return Number.isFinite(value) && !Object.is(value, -0) ? value : { $: ['number', numberName(value)] }
    case 'string':
    case 'boolean':
    case 'undefined':
      return value
    case 'object':
      return value === null ? null : liftObject(value, place)
    default:
      throw new TypeError(`a reply cannot hold a ${typeof value}`)
  }
}

function liftObject(value: object, place: (plane: Planes) => number): unknown {
  if (Array.isArray(value)) return value.map(one => lift(one, place))
  for (const [kind, Kind] of Object.entries(arrayKinds))
    if (value instanceof Kind) return { $: [kind, place(value), value.length] }
  if (value instanceof Map)
    return { $: ['map', [...value].map(([key, one]) => [lift(key, place), lift(one, place)])] }
  const prototype = Object.getPrototypeOf(value)
  if (prototype !== Object.prototype && prototype !== null)
    throw new TypeError(`a reply cannot hold a ${value.constructor.name}`)
  const entries = Object.entries(value).map(([key, one]) => [key, lift(one, place)] as const)
  return Object.hasOwn(value, '$') ? { $: ['plain', entries] } : Object.fromEntries(entries)
}

const numberName = (value: number): string => (Object.is(value, -0) ? '-0' : String(value))

function lower(value: unknown, blocks: Uint8Array<ArrayBuffer>): unknown {
  if (typeof value !== 'object' || value === null) return value
  if (Array.isArray(value)) return value.map(one => lower(one, blocks))
  if ('$' in value) return lowerTagged(value.$, blocks)
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, lower(one, blocks)]))
}

function lowerTagged(tagged: unknown, blocks: Uint8Array<ArrayBuffer>): unknown {
  if (!Array.isArray(tagged)) throw new TypeError('reply: a tagged value is not a list')
  const [kind, a, b] = tagged as readonly unknown[]
  if (kind === 'number') return Number(a)
  if (kind === 'map') return new Map(pairs(a).map(([key, one]) => [lower(key, blocks), lower(one, blocks)]))
  if (kind === 'plain')
    return Object.fromEntries(pairs(a).map(([key, one]) => [String(key), lower(one, blocks)]))
  if (typeof kind === 'string' && Object.hasOwn(arrayKinds, kind))
    return plane(arrayKinds[kind as ArrayKind], a, b, blocks)
  throw new TypeError(`reply: no value of kind "${String(kind)}"`)
}

function plane(
  Kind: (typeof arrayKinds)[ArrayKind],
  start: unknown,
  length: unknown,
  blocks: Uint8Array<ArrayBuffer>,
): Planes {
  const bytes = Number(length) * Kind.BYTES_PER_ELEMENT
  if (!isCount(start) || !isCount(length) || start % blockAlign !== 0 || start + bytes > blocks.length)
    throw new TypeError('reply: cut off inside its planes')
  return new Kind(blocks.buffer, blocks.byteOffset + start, length)
}

const isCount = (value: unknown): value is number => Number.isSafeInteger(value) && Number(value) >= 0

function pairs(value: unknown): readonly (readonly [unknown, unknown])[] {
  if (!Array.isArray(value)) throw new TypeError('reply: pairs are not a list')
  return value as readonly (readonly [unknown, unknown])[]
}
