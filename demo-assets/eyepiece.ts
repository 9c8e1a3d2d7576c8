/** An eyepiece turned on a lathe, as a binary glTF 2.0 model: a barrel, a ribbed grip and the eye lens. */

/** Radius and height along the outline, mm, from the foot of the barrel up. */
const outline: readonly (readonly [number, number])[] = [
  [0, -9],
  [7.4, -9],
  [8, -8.4],
  [8, -3.2],
  [7.5, -2.8],
  [7.5, -1.4],
  [8, -1],
  [8, 1],
  [11, 2],
  [14.6, 3.2],
  [15, 3.7],
  ...[0, 1, 2].flatMap(rib => {
    const y = 4.6 + 3.2 * rib
    return [
      [15, y],
      [14.2, y + 0.5],
      [14.2, y + 1.7],
      [15, y + 2.2],
    ] as const
  }),
  [15, 14],
  [14.2, 15.4],
  [12.4, 16.6],
  [12, 17.6],
  [12.6, 18.2],
  [12.4, 19.4],
  [11, 20],
  [9.6, 19.6],
  [9, 18.2],
  [7.4, 18.7],
  [5.2, 19.2],
  [2.7, 19.5],
  [0, 19.6],
]
const sides = 40
const lean = (35 * Math.PI) / 180

/** The model's bytes; the same on every run. */
export function makeEyepiece(): Uint8Array {
  const points: number[] = []
  const normals: number[] = []
  const triangles: number[] = []
  for (const [i, [r1, y1]] of outline.slice(1).entries()) {
    const [r0, y0] = outline[i]!
    const length = Math.hypot(r1 - r0, y1 - y0)
    // Across the outline: to the right of its way up.
    const [out, up] = [(y1 - y0) / length, (r0 - r1) / length]
    const first = points.length / 3
    for (let k = 0; k <= sides; k++) {
      const [cos, sin] = [Math.cos((2 * Math.PI * k) / sides), Math.sin((2 * Math.PI * k) / sides)]
      points.push(r0 * cos, y0, r0 * sin, r1 * cos, y1, r1 * sin)
      normals.push(out * cos, up, out * sin, out * cos, up, out * sin)
    }
    for (let k = 0; k < sides; k++) {
      const at = first + 2 * k
      triangles.push(at, at + 1, at + 2, at + 2, at + 1, at + 3)
    }
  }
  return glb(points, normals, triangles)
}

function glb(
  points: readonly number[],
  normals: readonly number[],
  triangles: readonly number[],
): Uint8Array {
  const vectors = 4 * points.length
  const count = points.length / 3
  const axis = (a: number) => points.filter((_, i) => i % 3 === a)
  const json = {
    asset: { version: '2.0', generator: 'demo-assets/make.mjs', copyright: 'CC0 1.0' },
    scene: 0,
    scenes: [{ nodes: [0] }],
    // It leans, so that it looks different from every side.
    nodes: [{ mesh: 0, name: 'Eyepiece', rotation: [0, 0, Math.sin(-lean / 2), Math.cos(-lean / 2)] }],
    meshes: [{ primitives: [{ attributes: { POSITION: 0, NORMAL: 1 }, indices: 2 }] }],
    accessors: [
      {
        bufferView: 0,
        componentType: 5126,
        count,
        type: 'VEC3',
        min: [0, 1, 2].map(a => Math.fround(Math.min(...axis(a)))),
        max: [0, 1, 2].map(a => Math.fround(Math.max(...axis(a)))),
      },
      { bufferView: 1, componentType: 5126, count, type: 'VEC3' },
      { bufferView: 2, componentType: 5123, count: triangles.length, type: 'SCALAR' },
    ],
    bufferViews: [
      { buffer: 0, byteOffset: 0, byteLength: vectors, target: 34962 },
      { buffer: 0, byteOffset: vectors, byteLength: vectors, target: 34962 },
      { buffer: 0, byteOffset: 2 * vectors, byteLength: 2 * triangles.length, target: 34963 },
    ],
    buffers: [{ byteLength: 2 * vectors + 2 * triangles.length }],
  }
  const text = new TextEncoder().encode(JSON.stringify(json))
  const textSize = Math.ceil(text.length / 4) * 4
  const binSize = Math.ceil((2 * vectors + 2 * triangles.length) / 4) * 4
  const out = new Uint8Array(28 + textSize + binSize).fill(0x20, 20, 20 + textSize)
  const view = new DataView(out.buffer)
  const words = [0x46546c67, 2, out.length, textSize, 0x4e4f534a]
  for (const [i, word] of words.entries()) view.setUint32(4 * i, word, true)
  out.set(text, 20)
  view.setUint32(20 + textSize, binSize, true)
  view.setUint32(24 + textSize, 0x004e4942, true)
  const bin = 28 + textSize
  for (const [i, value] of [...points, ...normals].entries()) view.setFloat32(bin + 4 * i, value, true)
  for (const [i, index] of triangles.entries()) view.setUint16(bin + 2 * vectors + 2 * i, index, true)
  return out
}
