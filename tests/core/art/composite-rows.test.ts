import { readdirSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type ArtFile, type Plane, processCount } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { memorySource } from '../../../core/base/source.ts'
import { type Compression, writePsd } from '../../support/psd-write.ts'

/** A few rows of a plane must be those rows of the whole plane, wherever the coding lets a reader skip. */
function expectSame(whole: Plane, part: Plane, top: number, bottom: number): void {
  const width = whole.box.right - whole.box.left
  const from = Math.max(top, whole.box.top)
  const to = Math.max(from, Math.min(bottom, whole.box.bottom))
  const rows = (plane: Plane) =>
    plane.data.subarray((from - plane.box.top) * width, (to - plane.box.top) * width)
  const [a, b] = [rows(whole), rows(part)]
  expect(b.length).toBe((to - from) * width)
  expect(a.every((v, i) => v === b[i])).toBe(true)
}

describe('rows of a plane', () => {
  it.each([
    ['raw', 8, false],
    ['rle', 8, false],
    ['rle', 8, true],
    ['rle', 16, true],
    ['zip', 8, false],
    ['zipDelta', 16, false],
  ] as const)('%s, %i bit, PSB %s', async (compression: Compression, depth, big) => {
    const [width, height] = [40, 31]
    const samples = (seed: number) => {
      const values = Array.from(
        { length: width * height },
        (_, i) => ((i * i * seed) >> 3) % (depth === 8 ? 256 : 65536),
      )
      return depth === 8 ? Uint8Array.from(values) : Uint16Array.from(values)
    }
    const planes = { 0: samples(3), [-1]: samples(5) }
    const box = { left: 0, top: -4, right: width, bottom: height - 4 }
    const bytes = writePsd({
      width,
      height,
      mode: 'Grayscale',
      depth,
      big,
      compression,
      composite: [samples(7)],
      layers: [{ name: 'a', box, planes }],
    })
    const file = await readArt(memorySource('rows.psd', bytes))
    for (const [top, bottom] of [
      [5, 9],
      [-9, 0],
      [20, 90],
    ] as const) {
      const part = (await file.layerPlane('1', 0, { top, bottom }))!
      expectSame((await file.layerPlane('1', 0))!, part, top, bottom)
      if (!compression.startsWith('zip')) expect(part.box.bottom - part.box.top).toBeLessThan(height)
      expectSame(await file.documentPlane(0), await file.documentPlane(0, { top, bottom }), top, bottom)
    }
  })

  it('are those of the whole plane in every real file', async () => {
    const folder = 'tests/fixtures/art'
    let planes = 0
    for (const name of readdirSync(folder).filter(n => /\.ps[db]$/.test(n))) {
      const file = await open(memorySource(name, readFileSync(`${folder}/${name}`)))
      if (!file) continue
      const rows = { top: Math.floor(file.art.height / 3), bottom: Math.ceil(file.art.height / 2) }
      for (const layer of file.art.layers.filter(l => l.kind !== 'flat'))
        for (const id of layer.channelIds) {
          const whole = await file.layerPlane(layer.id, id)
          if (whole) expectSame(whole, (await file.layerPlane(layer.id, id, rows))!, rows.top, rows.bottom)
          planes++
        }
      if (file.art.hasComposite && processCount(file.art.colorMode) > 0)
        expectSame(await file.documentPlane(0), await file.documentPlane(0, rows), rows.top, rows.bottom)
    }
    expect(planes).toBeGreaterThan(1000)
  })
})

async function open(source: ReturnType<typeof memorySource>): Promise<ArtFile | null> {
  try {
    return await readArt(source)
  } catch (error) {
    if (error instanceof BadInput) return null
    throw error
  }
}
