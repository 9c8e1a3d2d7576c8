import { GltfGuard, type GltfRecord, record } from './gltf-guard.ts'

/** The files that a text model names and that must lie beside it; none for a binary one. Throws BadInput. */
export function filesBeside(bytes: Uint8Array, name: string): readonly string[] {
  const guard = new GltfGuard(name)
  const { json } = unpacked(bytes, guard)
  return guard
    .list(json, 'buffers')
    .flatMap((buffer, i) =>
      buffer.uri === undefined || isData(buffer.uri) ? [] : [relativeUri(buffer.uri, i, guard)],
    )
}

const magic = 0x46546c67
const jsonChunk = 0x4e4f534a
const binChunk = 0x004e4942

/** Description and bytes of a model, from one file of either kind. */
export function unpacked(
  bytes: Uint8Array,
  guard: GltfGuard,
): { json: GltfRecord; inside: Uint8Array | null } {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  if (bytes.length < 4 || view.getUint32(0, true) !== magic)
    return { json: parsed(bytes, guard), inside: null }
  if (bytes.length < 20) guard.wrong(`byte ${bytes.length}`, 'the file ends inside its head')
  const version = view.getUint32(4, true)
  if (version !== 2) guard.wrong('byte 4', `expected glTF 2, got version ${version}`)
  const length = view.getUint32(8, true)
  if (length > bytes.length)
    guard.refuse(
      `byte ${bytes.length}`,
      `the file is cut off: it should have ${length} bytes`,
      'Copy or export it again',
    )
  let json: GltfRecord | null = null
  let inside: Uint8Array | null = null
  for (let at = 12; at + 8 <= length; ) {
    const size = view.getUint32(at, true)
    const kind = view.getUint32(at + 4, true)
    if (at + 8 + size > length) guard.wrong(`byte ${at}`, `a part of ${size} bytes reaches past the end`)
    const part = bytes.subarray(at + 8, at + 8 + size)
    if (kind === jsonChunk && json === null) json = parsed(part, guard)
    else if (kind === binChunk && inside === null) inside = part
    at += 8 + size + (-size & 3)
  }
  return json === null
    ? guard.wrong('byte 12', 'the part that describes the model is missing')
    : { json, inside }
}

function parsed(bytes: Uint8Array, guard: GltfGuard): GltfRecord {
  try {
    const json = record(JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes)))
    if (json !== null) return json
  } catch {
    return guard.refuse('the file', 'is not a glTF model', 'Choose a .glb or .gltf file')
  }
  return guard.wrong('the file', 'does not hold an object')
}

export const isData = (uri: unknown): uri is string => typeof uri === 'string' && uri.startsWith('data:')

/** A name inside the model's folder; the network and other folders are out of bounds. */
export function relativeUri(uri: unknown, i: number, guard: GltfGuard): string {
  const where = `buffers[${i}].uri`
  if (typeof uri !== 'string') return guard.wrong(where, 'is not a text')
  const name = decoded(uri)
  if (name !== null && !/^[a-z][a-z0-9+.-]*:|^[\\/]|\\|(^|\/)\.\.(\/|$)/i.test(name)) return name
  return guard.refuse(
    where,
    `${JSON.stringify(uri.slice(0, 60))} does not lie in the model's own folder`,
    'Export one .glb file',
  )
}

function decoded(uri: string): string | null {
  try {
    return decodeURIComponent(uri)
  } catch {
    return null
  }
}
