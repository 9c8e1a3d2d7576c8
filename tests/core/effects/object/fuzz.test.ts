import { encode } from 'fast-png'
import { describe, expect, it } from 'vitest'
import { BadInput } from '../../../../core/base/finding.ts'
import { readGltf } from '../../../../core/base/gltf.ts'
import { readPng } from '../../../../core/base/png-read.ts'
import { objectViews } from '../../../../core/effects/object/raster.ts'
import { usualTurning } from '../../../../core/effects/object/turn.ts'
import { ball, glb, meshBytes, meshGlb, meshJson } from '../../../support/glb.ts'

/** Numbers that are the same on every run. Source: Marsaglia, Xorshift RNGs (2003), the triple 13, 17, 5. */
function chance(seed: number): () => number {
  let x = seed
  return () => {
    x ^= x << 13
    x ^= x >>> 17
    x ^= x << 5
    return (x >>> 0) / 2 ** 32
  }
}

/** Bytes with a few changed, cut out, doubled or cut off. */
function spoiled(bytes: Uint8Array, next: () => number): Uint8Array {
  const out = [...bytes]
  const at = () => Math.floor(next() * out.length)
  const wounds = 1 + Math.floor(next() * 6)
  for (let i = 0; i < wounds; i++)
    switch (Math.floor(next() * 5)) {
      case 0:
        out[at()] = Math.floor(next() * 256)
        break
      case 1:
        out[at()]! ^= 1 << Math.floor(next() * 8)
        break
      case 2:
        out.splice(at(), Math.floor(next() * 16))
        break
      case 3:
        out.splice(at(), 0, ...out.slice(0, Math.floor(next() * 16)))
        break
      default:
        out.length = Math.max(1, at())
    }
  return Uint8Array.from(out)
}

/** JSON with one number or text somewhere replaced. */
function confused(json: unknown, next: () => number): unknown {
  const odd = [-1, 0, 1, 2.5, 255, 1e9, 4294967295, 1e300, null, '', 'x', [], {}, true]
  const leaves: [Record<string, unknown>, string][] = []
  const copy = JSON.parse(JSON.stringify(json)) as Record<string, unknown>
  const visit = (of: Record<string, unknown>) => {
    for (const [key, value] of Object.entries(of)) {
      leaves.push([of, key])
      if (typeof value === 'object' && value !== null) visit(value as Record<string, unknown>)
    }
  }
  visit(copy)
  const [of, key] = leaves[Math.floor(next() * leaves.length)]!
  of[key] = odd[Math.floor(next() * odd.length)]
  return copy
}

const shape = ball(4, 6)
const limitMs = 2000

async function sound(read: () => Promise<unknown>): Promise<boolean> {
  const started = performance.now()
  try {
    await read()
    return true
  } catch (error) {
    expect(error).toBeInstanceOf(BadInput)
    expect((error as BadInput).message.length).toBeGreaterThan(20)
    return false
  } finally {
    expect(performance.now() - started).toBeLessThan(limitMs)
  }
}

describe('files with mistakes', () => {
  it('models: 150 with wrong bytes and 150 with wrong words are read or refused by name', async () => {
    const next = chance(20260101)
    let refused = 0
    for (let i = 0; i < 300; i++) {
      const bytes =
        i % 2 === 0 ? spoiled(meshGlb(shape), next) : glb(confused(meshJson(shape), next), meshBytes(shape))
      const fine = await sound(async () => {
        const { model } = await readGltf(bytes, 'spoiled.glb')
        return objectViews(model, { ...usualTurning, views: 2 }, 24)
      })
      if (!fine) refused++
    }
    expect(refused).toBeGreaterThan(100)
    expect(refused).toBeLessThan(300)
  })

  it('pictures: 300 are read or refused by name', async () => {
    const next = chance(815)
    const data = Uint8Array.from({ length: 20 * 20 * 3 }, (_, i) => (i * 31) & 255)
    const whole = encode({ width: 20, height: 20, channels: 3, depth: 8, data })
    let refused = 0
    for (let i = 0; i < 300; i++)
      if (!(await sound(() => readPng(spoiled(whole, next), 'spoiled.png')))) refused++
    expect(refused).toBeGreaterThan(100)
  })
})
