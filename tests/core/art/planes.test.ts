import { spawnSync } from 'node:child_process'
import { describe, expect, it } from 'vitest'
import { processCount, type Rows } from '../../../core/art/layer.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { artBytes, artFolder, artNames, openFixture } from './files.ts'
import { flatten, peerRead } from './second-reader.ts'

/**
 * ag-psd decodes 8-bit layers of RGB and grey files, and 16- and 32-bit ones that are not RLE, by its own code.
 * Files of other modes are given to it as RGB: then C, M, Y (or L, a, b) come back as its R, G, B, untouched.
 */
describe('layer planes against ag-psd', () => {
  it('are equal sample by sample', async () => {
    let compared = 0
    for (const name of artNames) {
      const bytes = artBytes(name)
      let peers: ReturnType<typeof flatten>
      let file: Awaited<ReturnType<typeof openFixture>>
      try {
        peers = flatten(peerRead(bytes, true).children)
        file = await openFixture(name)
      } catch {
        continue
      }
      if (file.art.layers.length !== peers.length) continue
      const grey = processCount(file.art.colorMode) === 1
      for (const [i, layer] of file.art.layers.entries()) {
        const theirs = peers[i]!.imageData
        if (!theirs) continue
        for (const id of layer.channelIds) {
          if (id > 2 || (id > 0 && grey)) continue
          const plane = await file.layerPlane(layer.id, id)
          const at = id < 0 ? 3 : id
          const own = plane!.data
          let different = 0
          for (let p = 0; p < own.length; p++) if (own[p] !== theirs.data[p * 4 + at]) different++
          expect(different, `${name} ${layer.name} channel ${id}`).toBe(0)
          compared++
        }
        const mask = peers[i]!.realMask ?? (peers[i]!.mask?.fromVectorData ? undefined : peers[i]!.mask)
        const own = await file.maskPlane(layer.id)
        if (own === null || !mask?.imageData) continue
        let different = 0
        for (let p = 0; p < own.data.length; p++) if (own.data[p] !== mask.imageData.data[p * 4]) different++
        expect(different, `${name} ${layer.name} mask`).toBe(0)
        compared++
      }
    }
    expect(compared).toBeGreaterThan(1000)
  })
})

const magick = spawnSync('convert', ['-version'], { stdio: 'ignore' }).status === 0

/** ImageMagick reads the flattened picture by its own code and turns CMYK round (its 255 is solid ink). */
describe.skipIf(!magick)('document planes against ImageMagick', () => {
  it.each([
    ['psd-tools__cmyk-spot.psd', 'cmyk', 8],
    ['psd__testdata_cmyk8bit.psd', 'cmyk', 8],
    ['psd__testdata_cmyk8bit_minmax.psd', 'cmyk', 8],
    ['psd__testdata_cmyk16bit.psd', 'cmyk', 16],
    ['ag-psd__test_read_cmyk_src.psd', 'cmyk', 8],
    ['psd__errors_original.psb', 'rgb', 8],
    ['psd__errors_image-depth-16.psd', 'rgb', 16],
  ] as const)('%s', async (name, space, bits) => {
    const file = await openFixture(name)
    const options = ['-define', 'psd:alpha-unblend=off', '-endian', 'LSB', '-depth', String(bits)]
    const out = spawnSync(
      'convert',
      [...options.slice(0, 2), `${artFolder}/${name}[0]`, ...options.slice(2), `${space}:-`],
      { maxBuffer: 1 << 28 },
    )
    expect(out.status).toBe(0)
    const raw = new Uint8Array(out.stdout)
    const theirs = bits === 16 ? new Uint16Array(raw.buffer, 0, raw.length / 2) : raw
    const planes = processCount(file.art.colorMode)
    expect(theirs.length).toBe(file.art.width * file.art.height * planes)
    const top = 2 ** bits - 1
    for (let c = 0; c < planes; c++) {
      const { data } = await file.documentPlane(c)
      let different = 0
      for (let p = 0; p < data.length; p++) {
        const value = space === 'cmyk' ? top - data[p]! : data[p]!
        if (value !== theirs[p * planes + c]) different++
      }
      expect(different, `plane ${c}`).toBe(0)
    }
  })
})

/** The file's layers are named after the inks that they are filled with: solid is 0, none the highest value. */
describe('polarity of CMYK planes', () => {
  it('holds solid ink as 0 and bare paper as 255', async () => {
    const file = await openFixture('psd__testdata_cmyk8bit_minmax.psd')
    const inks: Record<string, string> = {
      W: '',
      C: 'C',
      M: 'M',
      Y: 'Y',
      K: 'K',
      CK: 'CK',
      MK: 'MK',
      YK: 'YK',
      All: 'CMYK',
    }
    for (const layer of file.art.layers) {
      const solid = inks[layer.name]
      expect(solid).toBeDefined()
      for (const [id, ink] of [...'CMYK'].entries()) {
        const plane = await file.layerPlane(layer.id, id)
        const alpha = await file.layerPlane(layer.id, -1)
        const inked = plane!.data.filter((_, p) => alpha!.data[p] === 255)
        expect(Math.min(...inked), `${layer.name} ${ink}`).toBe(solid!.includes(ink) ? 0 : 255)
      }
    }
  })
})

describe('asking for planes that are not there', () => {
  it('gives null for layers, and an error that names the range for the document', async () => {
    const file = await openFixture('psd__testdata_cmyk8bit.psd')
    const [layer] = file.art.layers
    expect(await file.layerPlane(layer!.id, 17)).toBeNull()
    expect(await file.layerPlane('nobody', 0)).toBeNull()
    expect(await file.maskPlane(layer!.id)).toBeNull()
    await expect(file.documentPlane(4)).rejects.toThrow('expected 0 to 3, got 4')
    expect(new BadInput('a', 'b', 'c', 'd', 'e').message).toBe('b: c: d. e')
  })
})

/** Reading only some rows is a second way to the same samples. */
describe('rows of a plane', () => {
  it('are those of the whole plane, in every packing and mode', async () => {
    let compared = 0
    for (const name of artNames) {
      const file = await openFixture(name).catch(() => null)
      if (file === null || file.art.findings.some(f => f.code === 'picture-missing')) continue
      const rows = { top: Math.floor(file.art.height / 3), bottom: Math.floor((file.art.height * 2) / 3) }
      const layer = file.art.layers.find(l => l.channelIds.includes(0))
      for (const read of [
        (r?: Rows) => file.documentPlane(0, r),
        (r?: Rows) => file.layerPlane(layer?.id ?? 'none', 0, r),
      ]) {
        const whole = await read()
        const part = await read(rows)
        if (whole === null || part === null) continue
        const width = whole.box.right - whole.box.left
        const wanted = (v: number) => Math.min(whole.box.bottom, Math.max(whole.box.top, v))
        expect(part.box.top).toBeLessThanOrEqual(wanted(rows.top))
        expect(part.box.bottom).toBeGreaterThanOrEqual(wanted(rows.bottom))
        const from = (part.box.top - whole.box.top) * width
        const same = whole.data.subarray(from, from + part.data.length)
        expect(part.data.length).toBe((part.box.bottom - part.box.top) * width)
        expect(
          part.data.every((v, i) => v === same[i]),
          name,
        ).toBe(true)
        compared++
      }
    }
    expect(compared).toBeGreaterThan(70)
  })

  it('outside the plane are none', async () => {
    const file = await openFixture('psd__testdata_cmyk8bit.psd')
    const plane = await file.documentPlane(0, { top: 500, bottom: 600 })
    expect([plane.box.top, plane.box.bottom, plane.data.length]).toEqual([64, 64, 0])
  })
})
