import { describe, expect, it } from 'vitest'
import type { Plane } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { type PsdDoc, writePsd } from '../../support/psd-write.ts'
import { openFixture } from './files.ts'

const bytes = (plane: Plane | null) => plane!.data as Uint8Array

describe('document channels of real files', () => {
  // Names as the file's own viewers show them; the colours are the sRGB numbers of its DisplayInfo (resource 1077),
  // read by hand: 0000 7878 BFBF, FFFF 4848 B0B0, FFFF E8E8 0000.
  it('cmyk-spot: three spot inks, each with name, ink and its own data', async () => {
    const file = await openFixture('psd-tools__cmyk-spot.psd')
    expect(file.art.channels.map(c => [c.name, c.kind, c.plane])).toEqual([
      ['blue', 'spot', 4],
      ['fluorescent pink', 'spot', 5],
      ['yellow', 'spot', 6],
    ])
    expect(file.art.channels.map(c => c.ink?.values.map(v => Math.round(v * 255)))).toEqual([
      [0, 0x78, 0xbf],
      [255, 0x48, 0xb0],
      [255, 0xe8, 0],
    ])
    const planes = await Promise.all(file.art.channels.map(c => file.documentPlane(c.plane)))
    for (const { data } of planes) expect(new Set(data).size).toBeGreaterThan(10)
    expect(Buffer.compare(bytes(planes[0]!), bytes(planes[1]!))).not.toBe(0)
  })

  it('a file without layers offers its picture as one layer, so that it can play a role', async () => {
    const file = await openFixture('psd-tools__cmyk-spot.psd')
    expect(file.art.layers.map(l => [l.id, l.kind, l.channelIds])).toEqual([['flat', 'flat', [0, 1, 2, 3]]])
    expect(Buffer.compare(bytes(await file.layerPlane('flat', 2)), bytes(await file.documentPlane(2)))).toBe(
      0,
    )
    expect(await file.layerPlane('flat', -1)).toBeNull()
    expect(await file.maskPlane('flat')).toBeNull()
  })

  // Unicode names (1045) over local ones (1006); spot and its red from the old display records (1007), 14 bytes each.
  it('Japanese names, old display records, transparency before the others', async () => {
    const { art } = await openFixture('psd__testdata_rgb8bit+2ch+spot_transparent.psd')
    expect(art.channels.map(c => [c.name, c.kind, c.plane])).toEqual([
      ['透明部分', 'transparency', 3],
      ['スポットカラー 1', 'spot', 4],
      ['ｱﾙﾌｧﾁｬﾝﾈﾙ 1', 'alpha', 5],
      ['ｱﾙﾌｧﾁｬﾝﾈﾙ 2 のコピー', 'alpha', 6],
    ])
    expect(art.channels[1]!.ink).toEqual({ space: 'RGB', values: [1, 0, 0] })
  })

  it('in deep files the transparency is told by its own block', async () => {
    for (const name of ['psd__errors_image-depth-16.psd', 'psd__errors_image-depth-32.psd'])
      expect((await openFixture(name)).art.channels.map(c => c.kind)).toEqual(['transparency'])
  })
})

/** Made files: what goes in must come out, in the polarity of the file. */
describe('document channels of made files', () => {
  const plane = (value: number) => new Uint8Array(12).fill(value)
  const doc: PsdDoc = {
    width: 4,
    height: 3,
    mode: 'CMYK',
    depth: 8,
    ppi: 254,
    composite: [plane(10), plane(20), plane(30), plane(40)],
    channels: [
      {
        name: 'White',
        kind: 'spot',
        ink: { space: 'Lab', values: [96, -1, 2.5] },
        solidity: 0.5,
        data: plane(50),
      },
      {
        name: 'Holo',
        kind: 'spot',
        ink: { space: 'CMYK', values: [0.2, 0, 1, 0.4] },
        solidity: 1,
        data: plane(60),
      },
      { name: 'Knife', kind: 'alpha', data: plane(70) },
    ],
  }

  it('keep name, ink, opacity and data', async () => {
    const file = await readArt(memorySource('made.psd', writePsd(doc)))
    const [white, holo, knife] = file.art.channels
    expect(white).toMatchObject({ name: 'White', kind: 'spot', opacity: 0.5 })
    expect(white!.ink).toEqual({ space: 'Lab', values: [96, -1, 2.5] })
    expect(holo!.ink!.space).toBe('CMYK')
    // 16-bit numbers: half a step of 65535.
    for (const [i, v] of [0.2, 0, 1, 0.4].entries())
      expect(Math.abs(holo!.ink!.values[i]! - v)).toBeLessThanOrEqual(0.5 / 65535)
    expect(knife).toMatchObject({ name: 'Knife', kind: 'alpha', ink: null, opacity: null })
    for (const [i, v] of [10, 20, 30, 40, 50, 60, 70].entries())
      expect([...(await file.documentPlane(i)).data]).toEqual(Array(12).fill(v))
  })

  it('of a multichannel file are all inks', async () => {
    const bytes = writePsd({ ...doc, mode: 'Multichannel', composite: [] })
    const { art } = await readArt(memorySource('made.psd', bytes))
    expect(art.channels.map(c => c.plane)).toEqual([0, 1, 2])
    expect(art.layers).toEqual([])
  })

  it('a picture that is only a stand-in is told by the file', async () => {
    const { art } = await readArt(memorySource('made.psd', writePsd({ ...doc, realComposite: false })))
    expect(art.hasComposite).toBe(false)
  })

  it('size and resolution come out as they went in, and a missing resolution is a finding', async () => {
    const { art } = await readArt(memorySource('made.psd', writePsd(doc)))
    expect([art.width, art.height, art.resolutionPpi]).toEqual([4, 3, 254])
    const { ppi: _, ...without } = doc
    const bare = await readArt(memorySource('made.psd', writePsd(without)))
    expect(bare.art.resolutionPpi).toBeNull()
    expect(bare.art.findings.map(f => f.code)).toEqual(['resolution-missing'])
  })
})
