import type { Model } from '../../base/gltf-surface.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { ViewImage } from '../view-image.ts'
import { eyeAngles, type Turning } from './turn.ts'

/** Views of an object, all of one size, with its middle in their middle. */
export interface DrawnViews {
  readonly views: readonly ViewImage[]
  /** Pixels a length, the longest side of the object's box. */
  readonly pixelsPerLength: number
}

/** Samples a pixel along each side. */
const grid = 3
/** Light from in front and above, fixed to the object's surroundings: 53° high. Ours; no source. */
const toLight = unit([0, 4, 3])
/** Part of the light that comes from everywhere. Ours; no source. */
const ambient = 0.06

/**
 * What each view of a turned object shows: white surfaces that scatter evenly (Lambert), lit from in front and above,
 * on black; the light stays with the object while the eye goes round. Hidden surfaces are told by depth at nine
 * samples a pixel. The same input gives the same bytes.
 */
export function objectViews(model: Model, turning: Turning, longest: number, task?: Task): DrawnViews {
  const put = placed(model, turning)
  const eyes = eyeAngles(turning).map(angle => eyeAt(angle, (turning.elevationDeg * Math.PI) / 180))
  const canvas = around(put.positions, eyes, turning.eyeLengths, longest)
  const views = eyes.map((eye, i) => {
    checkCancelled(task)
    task?.progress?.(i / eyes.length, `drawing view ${i + 1} of ${eyes.length}`)
    return oneView(put, eye, turning.eyeLengths, canvas)
  })
  return { views, pixelsPerLength: canvas.scale }
}

interface Canvas {
  readonly width: number
  readonly height: number
  /** Pixels a length. */
  readonly scale: number
}

/** The smallest canvas around the object's middle that no view leaves, its longest side `longest` pixels. */
function around(positions: Float32Array, eyes: readonly Eye[], far: number | null, longest: number): Canvas {
  let wide = 0
  let high = 0
  for (const eye of eyes)
    for (let i = 0; i < positions.length; i += 3) {
      const p = at(positions, i)
      const larger = magnification(eye, p, far)
      wide = Math.max(wide, Math.abs(dot(eye.right, p) * larger))
      high = Math.max(high, Math.abs(dot(eye.up, p) * larger))
    }
  // A sixteenth of a pixel keeps outlines that end on the edge inside.
  const most = Math.max(wide, high)
  if (!(most > 0)) return { width: longest, height: longest, scale: longest }
  const side = (half: number) => Math.max(1, Math.min(longest, Math.ceil((longest * half) / most)))
  return { width: side(wide), height: side(high), scale: (longest - 1 / 8) / (2 * most) }
}

const magnification = (eye: Eye, p: Vector, far: number | null): number =>
  far === null ? 1 : far / (far - dot(eye.out, p))

/** The model around its middle, its longest side 1, turned as it stands. */
interface Placed {
  readonly positions: Float32Array
  readonly normals: Float32Array
  readonly tones: Float32Array
}

function placed({ positions, normals, tones }: Model, { turnDeg }: Turning): Placed {
  const low = [Infinity, Infinity, Infinity]
  const high = [-Infinity, -Infinity, -Infinity]
  for (let i = 0; i < positions.length; i++) {
    low[i % 3] = Math.min(low[i % 3]!, positions[i]!)
    high[i % 3] = Math.max(high[i % 3]!, positions[i]!)
  }
  const longest = Math.max(...low.map((least, axis) => high[axis]! - least))
  const scale = longest > 0 ? 1 / longest : 0
  const [cos, sin] = turns((turnDeg * Math.PI) / 180)
  const out = new Float32Array(positions.length)
  const turned = new Float32Array(positions.length)
  for (let i = 0; i < positions.length; i += 3) {
    const along = (axis: number) => (positions[i + axis]! - (low[axis]! + high[axis]!) / 2) * scale
    const [x, y, z] = [along(0), along(1), along(2)]
    out[i] = cos * x + sin * z
    out[i + 1] = y
    out[i + 2] = cos * z - sin * x
    turned[i] = cos * normals[i]! + sin * normals[i + 2]!
    turned[i + 1] = normals[i + 1]!
    turned[i + 2] = cos * normals[i + 2]! - sin * normals[i]!
  }
  return { positions: out, normals: turned, tones }
}

function oneView(put: Placed, eye: Eye, far: number | null, canvas: Canvas): ViewImage {
  const [wide, high] = [canvas.width * grid, canvas.height * grid]
  const scale = canvas.scale * grid
  const depth = new Float32Array(wide * high).fill(-Infinity)
  const light = new Float32Array(wide * high)
  const corner = new Float64Array(12)
  for (let t = 0; t < put.tones.length; t++) {
    const side = sideSeen(put, t, eye.out, far)
    for (let k = 0; k < 3; k++) {
      const p = at(put.positions, 9 * t + 3 * k)
      const larger = magnification(eye, p, far)
      corner[4 * k] = wide / 2 + dot(eye.right, p) * larger * scale
      corner[4 * k + 1] = high / 2 - dot(eye.up, p) * larger * scale
      // Nearness that is straight over the picture, for rays from a point as for parallel ones.
      corner[4 * k + 2] = far === null ? dot(eye.out, p) : larger
      const facing = side * dot(toLight, at(put.normals, 9 * t + 3 * k))
      corner[4 * k + 3] = put.tones[t]! * (ambient + (1 - ambient) * Math.max(0, facing))
    }
    fill(corner, wide, high, depth, light)
  }
  return mean(light, canvas)
}

/** 1 where the eye sees the side that the triangle's normals point to, -1 where it sees the other: that side is lit. */
function sideSeen({ positions, normals }: Placed, t: number, out: Vector, far: number | null): number {
  const [a, b, c] = [at(positions, 9 * t), at(positions, 9 * t + 3), at(positions, 9 * t + 6)]
  const flat = cross(less(b, a), less(c, a))
  const meant = [0, 3, 6].reduce((sum, k) => sum + dot(flat, at(normals, 9 * t + k)), 0)
  const way = far === null ? out : less([out[0] * far, out[1] * far, out[2] * far], a)
  return meant * dot(flat, way) < 0 ? -1 : 1
}

/**
 * One triangle, x y nearness light a corner, into depth and light; both straight between the corners.
 * A sample on an edge belongs to both sides.
 */
function fill(c: Float64Array, wide: number, high: number, depth: Float32Array, light: Float32Array): void {
  const [x0, y0, x1, y1, x2, y2] = [c[0]!, c[1]!, c[4]!, c[5]!, c[8]!, c[9]!]
  const area = (x1 - x0) * (y2 - y0) - (x2 - x0) * (y1 - y0)
  if (area === 0 || !Number.isFinite(area)) return
  const left = Math.max(0, Math.ceil(Math.min(x0, x1, x2) - 0.5))
  const right = Math.min(wide - 1, Math.floor(Math.max(x0, x1, x2) - 0.5))
  const top = Math.max(0, Math.ceil(Math.min(y0, y1, y2) - 0.5))
  const bottom = Math.min(high - 1, Math.floor(Math.max(y0, y1, y2) - 0.5))
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++) {
      const x = column + 0.5
      const y = row + 0.5
      const b = ((x - x0) * (y2 - y0) - (x2 - x0) * (y - y0)) / area
      const d = ((x1 - x0) * (y - y0) - (x - x0) * (y1 - y0)) / area
      const a = 1 - b - d
      if (a < 0 || b < 0 || d < 0) continue
      const near = a * c[2]! + b * c[6]! + d * c[10]!
      const to = row * wide + column
      if (near <= depth[to]!) continue
      depth[to] = near
      light[to] = a * c[3]! + b * c[7]! + d * c[11]!
    }
}

function mean(light: Float32Array, { width, height }: Canvas): ViewImage {
  const data = new Uint8Array(width * height)
  const wide = width * grid
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let sum = 0
      for (let j = 0; j < grid; j++)
        for (let i = 0; i < grid; i++) sum += light[(y * grid + j) * wide + x * grid + i]!
      data[y * width + x] = Math.round((255 * Math.min(grid * grid, sum)) / (grid * grid))
    }
  return { width, height, data }
}

type Vector = readonly [number, number, number]

interface Eye {
  readonly right: Vector
  readonly up: Vector
  readonly out: Vector
}

/** Right, up and outwards of an eye that stands `angle` to the right of the front and `elevation` above. */
function eyeAt(angle: number, elevation: number): Eye {
  const [cos, sin] = turns(angle)
  const [flat, steep] = turns(elevation)
  return {
    right: [cos, 0, -sin],
    up: [-sin * steep, flat, -cos * steep],
    out: [sin * flat, steep, cos * flat],
  }
}

const turns = (angle: number): readonly [number, number] => [Math.cos(angle), Math.sin(angle)]
const at = (list: Float32Array, i: number): Vector => [list[i]!, list[i + 1]!, list[i + 2]!]
const less = (a: Vector, b: Vector): Vector => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const cross = (a: Vector, b: Vector): Vector => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
]
const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

function unit([x, y, z]: Vector): Vector {
  const length = Math.hypot(x, y, z)
  return [x / length, y / length, z / length]
}
