import { Mesh, type Object3D, Vector3 } from 'three'
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js'
import { describe, expect, it } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import { readGltf } from '../../../core/base/gltf.ts'
import { filesBeside } from '../../../core/base/gltf-file.ts'
import { cube, glb, meshBytes, meshGlb, meshJson } from '../../support/glb.ts'

/** World positions of all corners by three's own reader, triangle by triangle. */
async function otherReader(bytes: Uint8Array): Promise<readonly string[]> {
  const { scene } = await new GLTFLoader().parseAsync(Uint8Array.from(bytes).buffer, '')
  scene.updateMatrixWorld(true)
  const found: string[] = []
  scene.traverse((object: Object3D) => {
    if (!(object instanceof Mesh)) return
    const { position } = object.geometry.attributes
    const index = object.geometry.index
    const corner = (i: number) =>
      new Vector3().fromBufferAttribute(position, index ? index.getX(i) : i).applyMatrix4(object.matrixWorld)
    const count = index ? index.count : position.count
    for (let i = 0; i < count; i += 3) found.push(triangle([0, 1, 2].flatMap(k => corner(i + k).toArray())))
  })
  return found.sort()
}

const triangle = (values: readonly number[]) =>
  values.map(value => (value + 0).toFixed(4).replace('-0.0000', '0.0000')).join(' ')

async function ours(bytes: Uint8Array): Promise<readonly string[]> {
  const { model } = await readGltf(bytes, 'a.glb')
  const found: string[] = []
  for (let i = 0; i < model.positions.length; i += 9)
    found.push(triangle([...model.positions.subarray(i, i + 9)]))
  return found.sort()
}

const half = Math.SQRT1_2

describe('readGltf', () => {
  it.each<[string, Record<string, unknown>]>([
    ['one node', {}],
    [
      'nested nodes, moved, turned and stretched',
      {
        scenes: [{ nodes: [0, 2] }],
        nodes: [
          { children: [1], translation: [3, 0, -1], rotation: [0, half, 0, half] },
          { mesh: 0, scale: [1, 2, 3], rotation: [half, 0, 0, half] },
          { mesh: 0, scale: [-1, 1, 1], translation: [0, 5, 0] },
        ],
      },
    ],
    ['a matrix', { nodes: [{ mesh: 0, matrix: [0, 2, 0, 0, -1, 0, 0, 0, 0, 0, 1, 0, 7, 8, 9, 1] }] }],
    ['no scene is named', { scene: undefined }],
  ])('gives the triangles that the renderer’s own reader gives: %s', async (_, over) => {
    const bytes = meshGlb(cube, over)
    const found = await ours(bytes)
    expect(found).toHaveLength(12 * (over.nodes && (over.nodes as unknown[]).length === 3 ? 2 : 1))
    expect(found).toEqual(await otherReader(bytes))
  })

  it('reads whole numbers that stand for 0..1, strided', async () => {
    // KHR_mesh_quantization: 16-bit positions, normalised, 8 bytes apart.
    const corners = [0, 0, 0, 65535, 0, 0, 0, 65535, 0]
    const bytes = new Uint8Array(24)
    const view = new DataView(bytes.buffer)
    for (let i = 0; i < 9; i++) view.setUint16(8 * Math.floor(i / 3) + 2 * (i % 3), corners[i]!, true)
    const json = {
      asset: { version: '2.0' },
      extensionsUsed: ['KHR_mesh_quantization'],
      extensionsRequired: ['KHR_mesh_quantization'],
      scenes: [{ nodes: [0] }],
      nodes: [{ mesh: 0 }],
      meshes: [{ primitives: [{ attributes: { POSITION: 0 } }] }],
      accessors: [
        {
          bufferView: 0,
          componentType: 5123,
          normalized: true,
          count: 3,
          type: 'VEC3',
          min: [0, 0, 0],
          max: [1, 1, 0],
        },
      ],
      bufferViews: [{ buffer: 0, byteLength: 24, byteStride: 8 }],
      buffers: [{ byteLength: 24 }],
    }
    const found = await ours(glb(json, bytes))
    expect(found).toEqual(['0.0000 0.0000 0.0000 1.0000 0.0000 0.0000 0.0000 1.0000 0.0000'])
    expect(found).toEqual(await otherReader(glb(json, bytes)))
  })

  // glTF 2.0, 3.7.2.1: a strip turns every second triangle, so that all face the same way; a fan goes round its first.
  it.each([
    [5, [0, 1, 2, 1, 3, 2]],
    [6, [0, 1, 2, 0, 2, 3]],
  ])('takes mode %i apart', async (mode, expected) => {
    const corners = [0, 0, 0, 1, 0, 0, 0, 1, 0, 1, 1, 0]
    const shape = { positions: corners, triangles: [0, 1, 2, 3] }
    const { model } = await readGltf(
      meshGlb(shape, { meshes: [{ primitives: [{ attributes: { POSITION: 0 }, indices: 1, mode }] }] }),
      'a.glb',
    )
    expect([...model.positions]).toEqual(expected.flatMap(i => corners.slice(3 * i, 3 * i + 3)))
  })

  it.each([
    [1, 1, 1],
    [-1, 1, 1],
    [2, -3, 1],
  ])('gives every flat side a normal that points out, scaled by %f %f %f', async (...scale) => {
    const { model } = await readGltf(meshGlb(cube, { nodes: [{ mesh: 0, scale }] }), 'a.glb')
    for (let i = 0; i < model.positions.length; i += 3) {
      const [p, n] = [model.positions.subarray(i, i + 3), model.normals.subarray(i, i + 3)]
      expect(Math.hypot(...n)).toBeCloseTo(1, 6)
      expect(p[0]! * n[0]! + p[1]! * n[1]! + p[2]! * n[2]!).toBeGreaterThan(0)
    }
  })

  it('turns given normals by the inverse of the stretch', async () => {
    // A plane x + y = 1 stretched by 2 along x becomes x / 2 + y = 1, whose normal is (1, 2, 0) / √5.
    const corners = [1, 0, 0, 0, 1, 0, 1, 0, 1]
    const bytes = new Uint8Array(72)
    const view = new DataView(bytes.buffer)
    for (const [i, value] of [...corners, half, half, 0, half, half, 0, half, half, 0].entries())
      view.setFloat32(4 * i, value, true)
    const accessor = { componentType: 5126, count: 3, type: 'VEC3' }
    const { model } = await readGltf(
      glb(
        {
          asset: { version: '2.0' },
          nodes: [{ mesh: 0, scale: [2, 1, 1] }],
          meshes: [{ primitives: [{ attributes: { POSITION: 0, NORMAL: 1 } }] }],
          accessors: [
            { ...accessor, bufferView: 0 },
            { ...accessor, bufferView: 0, byteOffset: 36 },
          ],
          bufferViews: [{ buffer: 0, byteLength: 72 }],
          buffers: [{ byteLength: 72 }],
        },
        bytes,
      ),
      'a.glb',
    )
    expect(model.normals[0]).toBeCloseTo(1 / Math.sqrt(5), 6)
    expect(model.normals[1]).toBeCloseTo(2 / Math.sqrt(5), 6)
    expect(model.normals[2]).toBeCloseTo(0, 6)
  })

  it('takes the tone of a material from its base colour alone, and says what it passed over', async () => {
    const { model, findings } = await readGltf(
      meshGlb(cube, {
        materials: [
          { pbrMetallicRoughness: { baseColorFactor: [0, 1, 0, 1], baseColorTexture: { index: 0 } } },
        ],
        textures: [{ source: 0 }],
        images: [{ uri: 'https://example.org/never-asked-for.png' }],
        animations: [{ channels: [], samplers: [] }],
        meshes: [
          {
            primitives: [
              { attributes: { POSITION: 0 }, indices: 1, material: 0 },
              { attributes: { POSITION: 0 }, mode: 1 },
            ],
          },
        ],
      }),
      'a.glb',
    )
    // Luminance of green. Rec. ITU-R BT.709-6, item 3.2, printed to 4 decimals.
    expect(model.tones[0]).toBeCloseTo(0.7152, 6)
    expect(findings.map(one => one.code)).toEqual([
      'model-at-rest',
      'model-without-pictures',
      'model-parts-left-out',
    ])
  })
})

describe('a text model', () => {
  // The smallest model of the Khronos glTF tutorial, "A minimal glTF file": one triangle, its bytes inside the text.
  const minimal = {
    scene: 0,
    scenes: [{ nodes: [0] }],
    nodes: [{ mesh: 0 }],
    meshes: [{ primitives: [{ attributes: { POSITION: 1 }, indices: 0 }] }],
    buffers: [
      {
        uri: 'data:application/octet-stream;base64,AAABAAIAAAAAAAAAAAAAAAAAAAAAAIA/AAAAAAAAAAAAAAAAAACAPwAAAAA=',
        byteLength: 44,
      },
    ],
    bufferViews: [
      { buffer: 0, byteOffset: 0, byteLength: 6, target: 34963 },
      { buffer: 0, byteOffset: 8, byteLength: 36, target: 34962 },
    ],
    accessors: [
      { bufferView: 0, byteOffset: 0, componentType: 5123, count: 3, type: 'SCALAR', max: [2], min: [0] },
      {
        bufferView: 1,
        byteOffset: 0,
        componentType: 5126,
        count: 3,
        type: 'VEC3',
        max: [1, 1, 0],
        min: [0, 0, 0],
      },
    ],
    asset: { version: '2.0' },
  }
  const text = (json: unknown) => new TextEncoder().encode(JSON.stringify(json))
  const named = (uri: string) => text({ ...meshJson(cube), buffers: [{ uri, byteLength: 12 * 24 + 4 * 36 }] })

  it('may carry its bytes', async () => {
    const { model } = await readGltf(text(minimal), 'a.gltf')
    expect([...model.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0])
    expect(filesBeside(text(minimal), 'a.gltf')).toEqual([])
  })

  it('names the file beside it, which is asked for by that name', async () => {
    const bytes = named('parts/lens%20ring.bin')
    expect(filesBeside(bytes, 'a.gltf')).toEqual(['parts/lens ring.bin'])
    const asked: string[] = []
    const { model } = await readGltf(bytes, 'a.gltf', uri => {
      asked.push(uri)
      return meshBytes(cube)
    })
    expect(asked).toEqual(['parts/lens ring.bin'])
    expect(model.tones).toHaveLength(12)
    await expect(readGltf(bytes, 'a.gltf')).rejects.toThrow(/lens ring\.bin" is not beside the model/)
  })

  it.each([
    'https://example.org/a.bin',
    'file:///etc/passwd',
    '//example.org/a.bin',
    '/etc/passwd',
    '../a.bin',
    'a/..%2F..%2Fb.bin',
    'C:\\a.bin',
    '%E0%A4%A',
  ])('never reaches for %s', async uri => {
    expect(() => filesBeside(named(uri), 'a.gltf')).toThrow(/own folder/)
    await expect(readGltf(named(uri), 'a.gltf', () => meshBytes(cube))).rejects.toThrow(/own folder/)
  })
})

describe('a model that is wrong', () => {
  const nan = meshBytes(cube)
  new DataView(nan.buffer).setFloat32(24, Number.NaN, true)
  const whole = meshGlb(cube)
  const changed = (over: Record<string, unknown>) => meshGlb(cube, over)
  const { accessors, bufferViews } = meshJson(cube)

  it.each<[string, Uint8Array, RegExp]>([
    ['nothing', new Uint8Array(0), /is not a glTF model/],
    ['cut off', whole.subarray(0, whole.length - 9), /cut off: it should have \d+ bytes/],
    ['cut off in its head', whole.subarray(0, 13), /ends inside its head/],
    ['version 1', changed({ asset: { version: '1.0' } }), /expected glTF 2, got "1.0"/],
    [
      'compressed',
      changed({ extensionsRequired: ['KHR_draco_mesh_compression'] }),
      /without KHR_draco_mesh_compression/,
    ],
    ['no mesh', changed({ nodes: [{}] }), /has no surface made of triangles/],
    [
      'points only',
      changed({ meshes: [{ primitives: [{ attributes: { POSITION: 0 }, mode: 0 }] }] }),
      /no surface/,
    ],
    ['a corner that is not a number', glb(meshJson(cube), nan), /corner 2 lies nowhere \(NaN\)/],
    [
      'a count far too high',
      changed({ accessors: [{ ...accessors[0], count: 4e9 }, accessors[1]] }),
      /more than 12000000 values/,
    ],
    [
      'a count without bytes',
      changed({ accessors: [{ ...accessors[0], count: 25 }, accessors[1]] }),
      /reaches to byte 300 of a view of 288/,
    ],
    [
      'a view past its buffer',
      changed({ bufferViews: [bufferViews[0], { ...bufferViews[1], byteLength: 999 }] }),
      /reaches to byte 1287/,
    ],
    [
      'a negative place',
      changed({ bufferViews: [{ ...bufferViews[0], byteOffset: -4 }, bufferViews[1]] }),
      /expected a whole number, got -4/,
    ],
    [
      'an unknown index',
      changed({ meshes: [{ primitives: [{ attributes: { POSITION: 7 } }] }] }),
      /POSITION: there is no 7/,
    ],
    [
      'nodes in a ring',
      changed({ nodes: [{ mesh: 0, children: [1] }, { children: [0] }] }),
      /its own ancestor/,
    ],
    [
      'two parents',
      changed({ nodes: [{ children: [2] }, { children: [2] }, { mesh: 0 }] }),
      /has two parents/,
    ],
    [
      'too many copies',
      changed({
        scenes: [{ nodes: Array.from({ length: 99_999 }, (_, i) => i) }],
        nodes: Array.from({ length: 99_999 }, () => ({ mesh: 0 })),
        meshes: [
          { primitives: Array.from({ length: 3 }, () => ({ attributes: { POSITION: 0 }, indices: 1 })) },
        ],
      }),
      /more than 2000000 triangles/,
    ],
  ])('is refused by name: %s', async (_, bytes, reason) => {
    const error = await readGltf(bytes, 'comet.glb').then(
      () => null,
      (thrown: unknown) => thrown,
    )
    expect(error).toBeInstanceOf(BadInput)
    expect((error as BadInput).message).toMatch(reason)
    expect((error as BadInput).message).toMatch(/^comet\.glb: /)
  })
})
