import { BadInput } from './finding.ts'

/** A glTF object of JSON, before it is known to be right. */
export type GltfRecord = Readonly<Record<string, unknown>>

/** Most of everything that a model may have; far above what a picture of a few centimetres can show. */
export const gltfLimits = { bytes: 256e6, nodes: 100_000, elements: 12e6, triangles: 2e6 } as const

/** Extensions that change nothing about shape and base colour, or that the reader honours. */
const harmless = /^(KHR_materials_|KHR_texture_|EXT_texture_|KHR_lights_|KHR_mesh_quantization$|KHR_xmp)/

const componentBytes: Readonly<Record<number, number>> = {
  5120: 1,
  5121: 1,
  5122: 2,
  5123: 2,
  5125: 4,
  5126: 4,
}
const typeComponents: Readonly<Record<string, number>> = {
  SCALAR: 1,
  VEC2: 2,
  VEC3: 3,
  VEC4: 4,
  MAT2: 4,
  MAT3: 9,
  MAT4: 16,
}

/** What is wrong with a model, said once, with the file's name. */
export class GltfGuard {
  readonly #name: string

  constructor(name: string) {
    this.#name = name
  }

  refuse(where: string, problem: string, fix: string): never {
    throw new BadInput('model-malformed', this.#name, where, problem, fix)
  }

  wrong(where: string, problem: string): never {
    return this.refuse(where, problem, 'Export the model again as glTF 2.0')
  }

  /** Version, extensions and counts. */
  head(json: GltfRecord): void {
    const version = record(json.asset)?.version
    if (typeof version !== 'string' || !/^2(\.|$)/.test(version))
      this.wrong('asset.version', `expected glTF 2, got ${JSON.stringify(version) ?? 'nothing'}`)
    const required = Array.isArray(json.extensionsRequired) ? json.extensionsRequired : []
    const unknown = required.find(one => !harmless.test(String(one)))
    if (unknown !== undefined)
      this.refuse(
        'extensionsRequired',
        `it cannot be read without ${String(unknown)}`,
        'Export the model without compression and without extensions',
      )
    const nodes = this.list(json, 'nodes').length
    if (nodes > gltfLimits.nodes)
      this.refuse('nodes', `${nodes} of them, at most ${gltfLimits.nodes}`, 'Join parts before exporting')
  }

  /** Views inside their buffers, accessors inside their views, and not too many elements in all. */
  accessors(json: GltfRecord, bufferBytes: readonly number[]): void {
    const views = this.list(json, 'bufferViews')
    views.forEach((view, i) => {
      const where = `bufferViews[${i}]`
      const held = bufferBytes[this.count(view.buffer, `${where}.buffer`)]
      const offset = this.count(view.byteOffset ?? 0, `${where}.byteOffset`)
      const length = this.count(view.byteLength, `${where}.byteLength`)
      if (held === undefined) this.wrong(`${where}.buffer`, 'there is no such buffer')
      if (offset + length > held)
        this.wrong(where, `reaches to byte ${offset + length} of a buffer of ${held}`)
      const stride = view.byteStride
      if (stride !== undefined && !(this.count(stride, `${where}.byteStride`) > 0))
        this.wrong(`${where}.byteStride`, 'is 0')
    })
    let elements = 0
    this.list(json, 'accessors').forEach((accessor, i) => {
      const where = `accessors[${i}]`
      const count = this.count(accessor.count, `${where}.count`)
      elements += count
      if (elements > gltfLimits.elements)
        this.refuse(where, `more than ${gltfLimits.elements} values in all`, 'Use a coarser model')
      const components = typeComponents[String(accessor.type)]
      if (components === undefined) this.wrong(`${where}.type`, 'is not a type of glTF')
      if (accessor.bufferView !== undefined)
        this.#inside(views, accessor, count, components, accessor.componentType, where)
      const sparse = record(accessor.sparse)
      if (sparse === null) return
      const few = this.count(sparse.count, `${where}.sparse.count`)
      if (few > count) this.wrong(`${where}.sparse.count`, `${few} of ${count} values`)
      for (const [part, each, type] of [
        ['indices', 1, record(sparse.indices)?.componentType],
        ['values', components, accessor.componentType],
      ] as const) {
        const place = record(sparse[part])
        if (place === null) this.wrong(`${where}.sparse.${part}`, 'is missing')
        this.#inside(views, place, few, each, type, `${where}.sparse.${part}`)
      }
    })
  }

  #inside(
    views: readonly GltfRecord[],
    of: GltfRecord,
    count: number,
    components: number,
    type: unknown,
    where: string,
  ): void {
    const view = views[this.count(of.bufferView, `${where}.bufferView`)]
    if (view === undefined) this.wrong(`${where}.bufferView`, 'there is no such view')
    const size = componentBytes[Number(type)]
    if (size === undefined) this.wrong(`${where}.componentType`, 'is not a type of glTF')
    const offset = this.count(of.byteOffset ?? 0, `${where}.byteOffset`)
    const element = size * components
    const stride = view.byteStride === undefined ? element : Number(view.byteStride)
    if (offset % size !== 0 || stride % size !== 0)
      this.wrong(where, `its values do not start at whole multiples of ${size} bytes`)
    const end = count === 0 ? 0 : offset + stride * (count - 1) + element
    if (end > Number(view.byteLength))
      this.wrong(where, `reaches to byte ${end} of a view of ${Number(view.byteLength)}`)
  }

  /** Nodes are trees: nobody is a child twice or a child of itself. */
  nodes(json: GltfRecord): void {
    const nodes = this.list(json, 'nodes')
    const meshes = this.list(json, 'meshes').length
    const parents = new Int32Array(nodes.length).fill(-1)
    nodes.forEach((node, i) => {
      if (node.mesh !== undefined && !(this.count(node.mesh, `nodes[${i}].mesh`) < meshes))
        this.wrong(`nodes[${i}].mesh`, 'there is no such mesh')
      for (const child of this.numbers(node.children, `nodes[${i}].children`)) {
        if (child >= nodes.length) this.wrong(`nodes[${i}].children`, `there is no node ${child}`)
        if (parents[child] !== -1) this.wrong(`nodes[${child}]`, 'has two parents')
        parents[child] = i
      }
    })
    // With one parent each, whoever does not reach a root lies in a ring.
    const rooted = new Uint8Array(nodes.length)
    for (let i = 0; i < nodes.length; i++) {
      const way: number[] = []
      let at = i
      while (at !== -1 && rooted[at] === 0 && way.length <= nodes.length) {
        way.push(at)
        at = parents[at]!
      }
      if (way.length > nodes.length) this.wrong(`nodes[${i}]`, 'is its own ancestor')
      for (const one of way) rooted[one] = 1
    }
    this.list(json, 'scenes').forEach((scene, i) => {
      for (const node of this.numbers(scene.nodes, `scenes[${i}].nodes`))
        if (node >= nodes.length) this.wrong(`scenes[${i}].nodes`, `there is no node ${node}`)
    })
  }

  /** A list of objects, empty where there is none. */
  list(of: GltfRecord, key: string): readonly GltfRecord[] {
    const value = of[key]
    if (value === undefined) return []
    if (!Array.isArray(value) || value.some(one => record(one) === null))
      return this.wrong(key, 'expected a list of objects')
    return value as readonly GltfRecord[]
  }

  numbers(value: unknown, where: string): readonly number[] {
    if (value === undefined) return []
    if (!Array.isArray(value)) return this.wrong(where, 'expected a list of numbers')
    return value.map(one => this.count(one, where))
  }

  count(value: unknown, where: string): number {
    if (Number.isSafeInteger(value) && Number(value) >= 0) return Number(value)
    return this.wrong(where, `expected a whole number, got ${JSON.stringify(value) ?? 'nothing'}`)
  }
}

export function record(value: unknown): GltfRecord | null {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as GltfRecord) : null
}
