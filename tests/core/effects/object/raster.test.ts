import { describe, expect, it } from 'vitest'
import { readGltf } from '../../../../core/base/gltf.ts'
import type { Model } from '../../../../core/base/gltf-surface.ts'
import { Cancelled } from '../../../../core/base/task.ts'
import { type DrawnViews, objectViews } from '../../../../core/effects/object/raster.ts'
import { checkTurning, eyeAngles, type Turning, usualTurning } from '../../../../core/effects/object/turn.ts'
import type { ViewImage } from '../../../../core/effects/view-image.ts'
import { ball, cube, type MeshShape, meshGlb } from '../../../support/glb.ts'

const modelOf = async (shape: MeshShape, over = {}): Promise<Model> =>
  (await readGltf(meshGlb(shape, over), 'a.glb')).model
const parallel: Turning = { views: 3, fanDeg: 60, elevationDeg: 0, turnDeg: 0, eyeLengths: null }
const longest = 240

/** Area of what is not black, squared lengths. Ambient light leaves no part of the object black. */
function area({ data }: ViewImage, { pixelsPerLength }: DrawnViews): number {
  return (
    Array.from(data, value => Number(value > 0)).reduce((sum, one) => sum + one, 0) / pixelsPerLength ** 2
  )
}

/** Pixels whose value is not the outline's mean differ by at most half the outline's length, 3.5 lengths here. */
const outlineError = (drawn: DrawnViews) => 3.5 / drawn.pixelsPerLength

describe('the outline of a turned object', () => {
  it('of a cube of side 1 covers cos θ + sin θ (Cauchy: the sum of its sides’ projections)', async () => {
    const drawn = objectViews(await modelOf(cube), parallel, longest)
    for (const [i, angle] of eyeAngles(parallel).entries()) {
      const expected = Math.cos(angle) + Math.abs(Math.sin(angle))
      expect(Math.abs(area(drawn.views[i]!, drawn) - expected)).toBeLessThan(outlineError(drawn))
    }
  })

  it('of a cube from above covers cos ε + sin ε', async () => {
    const elevation = 25
    const turning = { ...parallel, elevationDeg: elevation }
    const drawn = objectViews(await modelOf(cube), turning, longest)
    const ε = (elevation * Math.PI) / 180
    expect(Math.abs(area(drawn.views[1]!, drawn) - Math.cos(ε) - Math.sin(ε))).toBeLessThan(
      outlineError(drawn),
    )
  })

  it('of a ball of diameter 1 covers π / 4 from everywhere', async () => {
    const drawn = objectViews(await modelOf(ball(60, 120)), { ...parallel, elevationDeg: 40 }, longest)
    for (const view of drawn.views)
      expect(Math.abs(area(view, drawn) - Math.PI / 4)).toBeLessThan(outlineError(drawn))
  })

  it('of a ball grows to π / 4 · D² / (D² − 1/4) for an eye D away', async () => {
    const D = 2
    const drawn = objectViews(await modelOf(ball(60, 120)), { ...parallel, eyeLengths: D }, longest)
    // The cone that touches a ball of radius r from D meets the plane of its middle in a circle r D / √(D² − r²).
    const expected = (Math.PI / 4) * ((D * D) / (D * D - 0.25))
    expect(Math.abs(area(drawn.views[1]!, drawn) - expected)).toBeLessThan(outlineError(drawn))
  })

  it('fills its canvas: the widest view touches both sides, nothing is cut', async () => {
    const drawn = objectViews(await modelOf(cube), parallel, longest)
    const { width, height } = drawn.views[0]!
    expect(Math.max(width, height)).toBe(longest)
    // The widest view of the cube is cos 30° + sin 30° lengths wide.
    expect(width / drawn.pixelsPerLength).toBeCloseTo(Math.cos(Math.PI / 6) + 0.5, 2)
    expect(height / drawn.pixelsPerLength).toBeCloseTo(1, 1)
  })
})

describe('what the views show', () => {
  it('the eye on the right sees the right side in front', async () => {
    // A tall post to the right of a wide plate's front edge: from the right it moves left against the plate behind it.
    const [plate, post] = [
      [-1, -1, -0.5, 1, -1, -0.5, 0, 1, -0.5],
      [-0.05, -1, 0.5, 0.05, -1, 0.5, 0, 1, 0.5],
    ]
    const model: Model = {
      positions: Float32Array.from([...plate!, ...post!]),
      normals: Float32Array.from([...Array(6)].flatMap(() => [0, 0, 1])),
      tones: Float32Array.from([0.2, 1]),
    }
    const { views } = objectViews(model, parallel, longest)
    const columnOf = ({ width, height, data }: ViewImage) => {
      const row = (height - 2) * width
      let [sum, count] = [0, 0]
      for (let x = 0; x < width; x++)
        if (data[row + x]! > 128) {
          sum += x + 0.5 - width / 2
          count++
        }
      return sum / count
    }
    const drawn = objectViews(model, parallel, longest)
    // The post stands half a length in front (its box is two high, so a quarter): it moves by −z sin θ.
    const [left, middle, right] = views.map(columnOf) as [number, number, number]
    const expected = 0.25 * Math.sin(Math.PI / 6) * drawn.pixelsPerLength
    expect(Math.abs(middle)).toBeLessThan(1)
    expect(Math.abs(left - expected)).toBeLessThan(1)
    expect(Math.abs(right + expected)).toBeLessThan(1)
  })

  it('what is near covers what is far, in whatever order they come', async () => {
    const square = (z: number) => [-1, -1, z, 1, -1, z, 0, 1, z]
    const model = (zs: readonly number[], tones: readonly number[]): Model => ({
      positions: Float32Array.from(zs.flatMap(square)),
      normals: Float32Array.from(zs.flatMap(() => [0, 0, 1, 0, 0, 1, 0, 0, 1])),
      tones: Float32Array.from(tones),
    })
    for (const eyeLengths of [null, 4]) {
      const turning = { ...parallel, eyeLengths }
      const near = objectViews(model([0.5, -0.5], [1, 0.1]), turning, 99).views[1]!
      const behind = objectViews(model([-0.5, 0.5], [0.1, 1]), turning, 99).views[1]!
      expect(near.data).toEqual(behind.data)
      expect(near.data[near.width * 60 + 49]).toBeGreaterThan(128)
    }
  })

  it('a side turned to the light is as bright as Lambert’s cosine says', async () => {
    const flat = (normal: readonly number[]): Model => ({
      positions: Float32Array.from([-1, -1, 0, 1, -1, 0, 0, 1, 0]),
      normals: Float32Array.from([...normal, ...normal, ...normal]),
      tones: Float32Array.from([1]),
    })
    const brightness = (normal: readonly number[]) => {
      const { width, height, data } = objectViews(flat(normal), parallel, 99).views[1]!
      return data[Math.floor(height * 0.7) * width + Math.floor(width / 2)]! / 255
    }
    // (0, 4, 3) to the light, 6 % from everywhere: ours, as the drawing states.
    const cosine = 3 / 5
    expect(Math.abs(brightness([0, 0, 1]) - (0.06 + 0.94 * cosine))).toBeLessThan(1 / 255)
    expect(Math.abs(brightness([1, 0, 0.001]) - 0.06)).toBeLessThan(2 / 255)
    // Normals that point away: the other side is seen, and lit by its own normal.
    expect(Math.abs(brightness([0, 0, -1]) - (0.06 + 0.94 * cosine))).toBeLessThan(1 / 255)
  })

  it('turning the object by the fan’s step moves every view one on', async () => {
    const model = await modelOf(ball(20, 40), { nodes: [{ mesh: 0, scale: [1, 1, 0.3] }] })
    // The light stays with the surroundings, so outlines are compared.
    const first = objectViews(model, { ...parallel, turnDeg: 0 }, longest)
    const turned = objectViews(model, { ...parallel, turnDeg: -30 }, longest)
    const [a, b] = [area(first.views[2]!, first), area(turned.views[1]!, turned)]
    expect(Math.abs(a - b)).toBeLessThan(outlineError(first))
    expect(Math.abs(a - area(first.views[1]!, first))).toBeGreaterThan(5 * outlineError(first))
  })

  it('is the same twice, and stops when told', async () => {
    const model = await modelOf(ball(20, 40))
    expect(objectViews(model, usualTurning, 64)).toEqual(objectViews(model, usualTurning, 64))
    expect(() => objectViews(model, usualTurning, 64, { signal: { aborted: true } as AbortSignal })).toThrow(
      Cancelled,
    )
  })

  it('of an object without extent is black, not broken', () => {
    const point: Model = {
      positions: new Float32Array(9),
      normals: new Float32Array(9),
      tones: new Float32Array([1]),
    }
    const { views } = objectViews(point, usualTurning, 16)
    expect(views).toHaveLength(9)
    expect(views.every(view => view.data.every(value => value === 0))).toBe(true)
  })
})

describe('checkTurning', () => {
  it('names the number that is wrong', () => {
    expect(() => checkTurning(usualTurning, 'lens.glb')).not.toThrow()
    const wrong = (change: Partial<Turning>) => () => checkTurning({ ...usualTurning, ...change }, 'lens.glb')
    expect(wrong({ views: 2.5 })).toThrow(/lens\.glb: views: expected a whole number 2..16, got 2.5/)
    expect(wrong({ views: 17 })).toThrow(/views/)
    expect(wrong({ fanDeg: Number.NaN })).toThrow(/fanDeg: expected a number 1..180, got NaN/)
    expect(wrong({ eyeLengths: 0.5 })).toThrow(/eyeLengths/)
    expect(wrong({ eyeLengths: null })).not.toThrow()
  })
})
