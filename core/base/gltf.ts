import {
  type Accessor,
  BufferUtils,
  type Document,
  type GLTF,
  Logger,
  type Node,
  type Primitive,
  Verbosity,
  WebIO,
} from '@gltf-transform/core'
import type { Finding } from './finding.ts'
import { isData, relativeUri, unpacked } from './gltf-file.ts'
import { GltfGuard, type GltfRecord, gltfLimits, record } from './gltf-guard.ts'
import {
  cornerCount,
  identity,
  type Matrix,
  type Model,
  type Placed,
  type Surface,
  times,
  trianglesOf,
} from './gltf-surface.ts'

/** What a file beside the model holds, by the name that the model gives it; null when it is not there. */
export type Beside = (uri: string) => Uint8Array | null

/**
 * Reads the shape of a glTF 2.0 model, text or binary. Its scene is taken as it stands: at rest, unskinned, without
 * pictures on it. Throws BadInput for a file that is broken, too large, without a surface, or that wants the network.
 */
export async function readGltf(
  bytes: Uint8Array,
  name: string,
  beside: Beside = () => null,
): Promise<{ readonly model: Model; readonly findings: readonly Finding[] }> {
  const guard = new GltfGuard(name)
  if (bytes.length > gltfLimits.bytes)
    guard.refuse('the file', `is longer than ${gltfLimits.bytes / 1e6} MB`, 'Use a coarser model')
  const { json, inside } = unpacked(bytes, guard)
  guard.head(json)
  const resources: Record<string, Uint8Array<ArrayBuffer>> = {}
  const buffers = guard.list(json, 'buffers').map((buffer, i) => {
    const held = bufferOf(buffer.uri, i, inside, beside, guard)
    const said = guard.count(buffer.byteLength, `buffers[${i}].byteLength`)
    if (said > held.length) guard.wrong(`buffers[${i}]`, `has ${held.length} of ${said} bytes`)
    resources[`__${i}`] = Uint8Array.from(held.subarray(0, said))
    return { byteLength: said, uri: `__${i}` }
  })
  guard.accessors(
    json,
    buffers.map(one => one.byteLength),
  )
  guard.nodes(json)
  const plain = { ...shapeOnly(json, guard), buffers }
  const io = new WebIO().setLogger(new Logger(Verbosity.SILENT))
  // What the guard let pass is well-formed; what the reader still stumbles over is the file's fault.
  const document = await io
    .readJSON({ json: plain as unknown as GLTF.IGLTF, resources })
    .catch((error: unknown) =>
      guard.wrong('the model', error instanceof Error ? error.message : String(error)),
    )
  const placed = placedSurfaces(document)
  const skipped = placed.filter(({ surface }) => cornerCount(surface) === 0).length
  return { model: trianglesOf(placed, guard), findings: findingsOf(json, name, skipped, guard) }
}

function bufferOf(
  uri: unknown,
  i: number,
  inside: Uint8Array | null,
  beside: Beside,
  guard: GltfGuard,
): Uint8Array {
  if (uri === undefined) return inside ?? guard.wrong(`buffers[${i}]`, 'its bytes are missing')
  if (isData(uri))
    try {
      return BufferUtils.createBufferFromDataURI(uri)
    } catch {
      return guard.wrong(`buffers[${i}].uri`, 'its bytes cannot be decoded')
    }
  const named = relativeUri(uri, i, guard)
  return (
    beside(named) ??
    guard.refuse(
      `buffers[${i}]`,
      `"${named}" is not beside the model`,
      'Put it back, or export one .glb file',
    )
  )
}

/** The parts of a model that its shape and base colour need. */
function shapeOnly(json: GltfRecord, guard: GltfGuard): GltfRecord {
  const accessors = guard.list(json, 'accessors')
  const materials = guard.list(json, 'materials')
  const pick = (of: GltfRecord, keys: readonly string[]) =>
    Object.fromEntries(keys.flatMap(key => (of[key] === undefined ? [] : [[key, of[key]]])))
  const known = (index: unknown, list: readonly GltfRecord[], where: string) => {
    const at = guard.count(index, where)
    return at < list.length ? at : guard.wrong(where, `there is no ${at}`)
  }
  return {
    asset: { version: '2.0' },
    ...pick(json, ['bufferViews', 'accessors', 'scenes', 'scene']),
    nodes: guard
      .list(json, 'nodes')
      .map(node => pick(node, ['mesh', 'children', 'translation', 'rotation', 'scale', 'matrix'])),
    materials: materials.map(material => ({
      pbrMetallicRoughness: pick(record(material.pbrMetallicRoughness) ?? {}, ['baseColorFactor']),
    })),
    meshes: guard.list(json, 'meshes').map((mesh, i) => ({
      primitives: guard.list(mesh, 'primitives').map((primitive, k) => {
        const where = `meshes[${i}].primitives[${k}]`
        const attributes = record(primitive.attributes) ?? guard.wrong(where, 'has no attributes')
        const kept = pick(attributes, ['POSITION', 'NORMAL'])
        for (const [key, index] of Object.entries(kept)) known(index, accessors, `${where}.${key}`)
        if (primitive.indices !== undefined) known(primitive.indices, accessors, `${where}.indices`)
        if (primitive.material !== undefined) known(primitive.material, materials, `${where}.material`)
        return { attributes: kept, ...pick(primitive, ['indices', 'mode', 'material']) }
      }),
    })),
  }
}

/** Every surface of the scene with the matrix that puts it there. */
function placedSurfaces(document: Document): readonly Placed[] {
  const root = document.getRoot()
  const scene = root.getDefaultScene() ?? root.listScenes()[0]
  const tops = scene ? scene.listChildren() : root.listNodes().filter(node => node.getParentNode() === null)
  const known = new Map<Primitive, Surface>()
  const placed: Placed[] = []
  const waiting: { node: Node; above: Matrix }[] = tops.map(node => ({ node, above: identity }))
  for (let next = waiting.pop(); next; next = waiting.pop()) {
    const matrix = times(next.above, next.node.getMatrix())
    for (const primitive of next.node.getMesh()?.listPrimitives() ?? []) {
      const surface = known.get(primitive) ?? surfaceOf(primitive)
      known.set(primitive, surface)
      placed.push({ surface, matrix })
    }
    for (const node of next.node.listChildren()) waiting.push({ node, above: matrix })
  }
  return placed
}

function surfaceOf(primitive: Primitive): Surface {
  const positions = vectors(primitive.getAttribute('POSITION'))
  const normals = vectors(primitive.getAttribute('NORMAL'))
  return {
    positions: positions ?? new Float32Array(0),
    normals: normals?.length === positions?.length ? normals : null,
    indices: positions === null ? [] : (primitive.getIndices()?.getArray() ?? null),
    mode: primitive.getMode(),
    tone: toneOf(primitive),
  }
}

/** Values as numbers, whatever they are packed in; null where there are none. */
function vectors(accessor: Accessor | null): Float32Array | null {
  if (!accessor?.getArray() || accessor.getType() !== 'VEC3') return null
  const out = new Float32Array(3 * accessor.getCount())
  const one = [0, 0, 0]
  for (let i = 0; i < accessor.getCount(); i++) out.set(accessor.getElement(i, one), 3 * i)
  return out
}

/** Relative luminance of the base colour, whose parts are linear. Weights: Rec. ITU-R BT.709-6, item 3.2. */
function toneOf(primitive: Primitive): number {
  const [r, g, b] = primitive.getMaterial()?.getBaseColorFactor() ?? [1, 1, 1, 1]
  const tone = 0.2126 * r + 0.7152 * g + 0.0722 * b
  return Number.isFinite(tone) ? Math.min(1, Math.max(0, tone)) : 1
}

function findingsOf(json: GltfRecord, name: string, skipped: number, guard: GltfGuard): readonly Finding[] {
  const has = (key: string) => guard.list(json, key).length > 0
  const note = (code: string, message: string, fix: string): Finding => ({
    severity: 'note',
    code,
    where: name,
    message,
    fix,
  })
  return [
    ...(has('skins') || has('animations')
      ? [
          note(
            'model-at-rest',
            'the model moves; it is shown as it stands at rest',
            'Export it in the pose that is wanted.',
          ),
        ]
      : []),
    ...(has('textures') || has('images')
      ? [
          note(
            'model-without-pictures',
            'pictures on its surface are not shown, only the colour of each material',
            'Nothing, if shape and shading are enough; else give the object as numbered pictures.',
          ),
        ]
      : []),
    ...(skipped > 0
      ? [note('model-parts-left-out', `${skipped} parts are points or lines and are left out`, 'Nothing.')]
      : []),
  ]
}
