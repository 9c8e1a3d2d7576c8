/** glTF files made by hand, for tests: whatever JSON is asked for, with one buffer. */

export interface MeshShape {
  /** Three numbers a vertex. */
  readonly positions: readonly number[]
  readonly triangles: readonly number[]
}

/** A cube of side 1 around the origin, each side two triangles, counter-clockwise from outside. */
export const cube: MeshShape = (() => {
  const positions: number[] = []
  const triangles: number[] = []
  for (const [axis, sign] of [0, 1, 2].flatMap(a => [
    [a, 1],
    [a, -1],
  ]) as [number, number][]) {
    const first = positions.length / 3
    const [u, v] = [(axis + 1) % 3, (axis + 2) % 3]
    for (const [a, b] of [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const) {
      const p = [0, 0, 0]
      p[axis] = sign / 2
      p[u] = (sign * a) / 2
      p[v] = b / 2
      positions.push(...p)
    }
    triangles.push(first, first + 1, first + 2, first, first + 2, first + 3)
  }
  return { positions, triangles }
})()

/** A ball of diameter 1 by rings and sectors; its outline lies inside the true one by less than 1 − cos(π / sectors). */
export function ball(rings: number, sectors: number): MeshShape {
  const positions: number[] = []
  const triangles: number[] = []
  for (let i = 0; i <= rings; i++)
    for (let k = 0; k <= sectors; k++) {
      const [θ, φ] = [(Math.PI * i) / rings, (2 * Math.PI * k) / sectors]
      positions.push((Math.sin(θ) * Math.cos(φ)) / 2, Math.cos(θ) / 2, (Math.sin(θ) * Math.sin(φ)) / 2)
    }
  for (let i = 0; i < rings; i++)
    for (let k = 0; k < sectors; k++) {
      const a = i * (sectors + 1) + k
      const b = a + sectors + 1
      triangles.push(a, a + 1, b, a + 1, b + 1, b)
    }
  return { positions, triangles }
}

/** Bytes of positions (32-bit floats) followed by triangles (32-bit numbers). */
export function meshBytes({ positions, triangles }: MeshShape): Uint8Array {
  const out = new Uint8Array(4 * (positions.length + triangles.length))
  const view = new DataView(out.buffer)
  for (const [i, value] of positions.entries()) view.setFloat32(4 * i, value, true)
  for (const [i, index] of triangles.entries()) view.setUint32(4 * (positions.length + i), index, true)
  return out
}

/** The JSON of a mesh in one node; what is in `over` replaces its parts. */
export function meshJson(shape: MeshShape, over: Readonly<Record<string, unknown>> = {}) {
  const [points, indices] = [shape.positions.length / 3, shape.triangles.length]
  return {
    asset: { version: '2.0' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1 }] }],
    accessors: [
      {
        bufferView: 0,
        componentType: 5126,
        count: points,
        type: 'VEC3',
        min: [-0.5, -0.5, -0.5],
        max: [0.5, 0.5, 0.5],
      },
      { bufferView: 1, componentType: 5125, count: indices, type: 'SCALAR' },
    ],
    bufferViews: [
      { buffer: 0, byteOffset: 0, byteLength: 12 * points },
      { buffer: 0, byteOffset: 12 * points, byteLength: 4 * indices },
    ],
    buffers: [{ byteLength: 12 * points + 4 * indices }],
    ...over,
  }
}

/** A binary model. */
export function glb(json: unknown, bin: Uint8Array): Uint8Array {
  const text = new TextEncoder().encode(JSON.stringify(json))
  const [textSize, binSize] = [text.length + (-text.length & 3), bin.length + (-bin.length & 3)]
  const out = new Uint8Array(28 + textSize + binSize)
  const view = new DataView(out.buffer)
  for (const [i, value] of [0x46546c67, 2, out.length, textSize, 0x4e4f534a].entries())
    view.setUint32(4 * i, value, true)
  out.fill(0x20, 20, 20 + textSize)
  out.set(text, 20)
  view.setUint32(20 + textSize, binSize, true)
  view.setUint32(24 + textSize, 0x004e4942, true)
  out.set(bin, 28 + textSize)
  return out
}

export const meshGlb = (shape: MeshShape, over: Readonly<Record<string, unknown>> = {}): Uint8Array =>
  glb(meshJson(shape, over), meshBytes(shape))
