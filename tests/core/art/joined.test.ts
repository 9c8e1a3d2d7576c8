import { describe, expect, it } from 'vitest'
import { composite } from '../../../core/art/composite.ts'
import type { ArtFile } from '../../../core/art/layer.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'
import { pageData } from '../../support/page-data.ts'
import { type TiffWish, tiffBytes } from '../../support/tiff-bytes.ts'

/** 30 × 20 mm at 254 pixels an inch: ten a millimetre. Cyan half everywhere, a white plate on the left. */
const sheet: TiffWish = {
  width: 300,
  height: 200,
  samples: 5,
  bits: 8,
  photometric: 5,
  value: (x, _y, s) => (s === 0 ? 128 : s === 4 ? (x < 100 ? 255 : 0) : 0),
  rowsPerStrip: 16,
  fields: [
    [282, 5, [254, 1]],
    [283, 5, [254, 1]],
    [332, 3, [2]],
    [333, 2, 'Cyan\0Magenta\0Yellow\0Black\0White\0'],
  ],
}
const svg = (body: string, width = 30, height = 20) =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}">${body}</svg>`

const tiff = (own: Partial<TiffWish> = {}) => memorySource('sheet.tif', tiffBytes([{ ...sheet, ...own }]))
const drawing = (text: string) => memorySource('lines.svg', new TextEncoder().encode(text))

const parts = svg(
  '<g id="Holography"><rect x="5" y="5" width="10" height="10" fill="#ccc"/></g><g id="Black_x20_type"><rect x="20" y="2" width="6" height="4"/></g>',
)

/** What is seen of all layers at a place in mm from the upper left corner: C, M, Y, K as parts of solid, then how much. */
async function seen(file: ArtFile, x: number, y: number, ids?: readonly string[]) {
  const left = Math.floor(x * 10)
  const top = Math.floor(y * 10)
  const region = { left, top, right: left + 1, bottom: top + 1 }
  const surface = await composite(file, {
    region,
    include: layer => ids === undefined || ids.includes(layer.id),
  })
  return [
    ...surface.planes.map(plane => Number((1 - plane[0]!).toFixed(2))),
    Number(surface.alpha[0]!.toFixed(2)),
  ]
}

describe('an image and a drawing over it', () => {
  it('are one piece of art: the image below, layers of the drawing above, plates of the image', async () => {
    const file = await readArt(tiff(), { beside: [drawing(parts)] })
    const { art } = file
    expect([art.name, art.format, art.width, art.height, art.colorMode, art.resolutionPpi]).toEqual([
      'sheet.tif',
      'TIFF',
      300,
      200,
      'CMYK',
      254,
    ])
    expect(art.layers.map(layer => layer.id)).toEqual(['flat', 'Holography', 'Black type'])
    expect(art.channels.map(channel => channel.name)).toEqual(['White'])
    expect(art.layers[1]!.box).toEqual({ left: 50, top: 50, right: 150, bottom: 150 })
    expect(art.layers[1]!.outlines?.length).toBe(1)
    expect(await seen(file, 2, 2)).toEqual([0.5, 0, 0, 0, 1])
    expect(await seen(file, 10, 10)).toEqual([0, 0, 0, 0.2, 1])
    expect(await seen(file, 22, 4)).toEqual([0, 0, 0, 1, 1])
    expect(await seen(file, 10, 10, ['Holography'])).toEqual([0, 0, 0, 0.2, 1])
    expect((await seen(file, 2, 2, ['Holography'])).at(-1)).toBe(0)
    expect([...(await file.documentPlane(4, { top: 100, bottom: 101 })).data.subarray(98, 102)]).toEqual([
      0, 0, 255, 255,
    ])
    // The flattened picture has the drawing in it: black is 0 where the type lies.
    expect((await file.documentPlane(3, { top: 30, bottom: 31 })).data[220]).toBe(0)
    expect((await file.layerPlane('Holography', -1, { top: 100, bottom: 101 }))!.box.top).toBe(100)
  })

  it('colours of the drawing are separated by the print condition at hand', async () => {
    const file = await readArt(tiff(), {
      beside: [drawing(svg('<g id="Star"><rect width="30" height="20" fill="#d00"/></g>'))],
      shipped: pageData,
    })
    const [c, m, y, k] = (await seen(file, 10, 10)) as [number, number, number, number]
    // A warm red: mostly magenta and yellow, in any print condition.
    expect(m).toBeGreaterThan(0.8)
    expect(y).toBeGreaterThan(0.8)
    expect(Math.max(c, k)).toBeLessThan(0.3)
    expect(file.art.findings.map(f => f.code)).toContain('joined-colours-separated')
  })

  it('sizes may differ by half a millimetre; more is said, and both begin at the lower left corner', async () => {
    const near = await readArt(tiff(), {
      beside: [drawing(svg('<g id="Die"><rect width="30.4" height="20.4"/></g>', 30.4, 20.4))],
    })
    expect(near.art.findings.map(f => f.code)).not.toContain('joined-sizes')
    const far = await readArt(tiff(), {
      beside: [drawing(svg('<g id="Die"><rect y="22" width="5" height="3"/></g>', 30, 25))],
    })
    expect(far.art.findings.find(f => f.code === 'joined-sizes')!.message).toMatch(
      /30\.0 × 25\.0 mm, "sheet.tif" is 30\.0 × 20\.0 mm/,
    )
    expect(far.art.layers[1]!.box).toEqual({ left: 0, top: 170, right: 50, bottom: 200 })
    expect((await seen(far, 2, 18, ['Die'])).at(-1)).toBe(1)
    expect((await seen(far, 2, 16, ['Die'])).at(-1)).toBe(0)
  })

  it('an image without a resolution is as large as the drawing', async () => {
    const file = await readArt(tiff({ fields: [...sheet.fields!.slice(2), [296, 3, [1]]] }), {
      beside: [drawing(parts)],
    })
    expect(Math.abs(file.art.resolutionPpi! - 254)).toBeLessThan(0.1)
    expect(await seen(file, 10, 10)).toEqual([0, 0, 0, 0.2, 1])
    expect((await seen(file, 15.2, 10, ['Holography'])).at(-1)).toBe(0)
  })

  it('plates take a drawing as well, whichever file comes first', async () => {
    const plate = { samples: 1, photometric: 1, value: () => 100, fields: sheet.fields!.slice(0, 2) }
    const named = (name: string) => memorySource(name, tiffBytes([{ ...sheet, ...plate }]))
    const file = await readArt(drawing(parts), { beside: [named('lid_cyan.tif'), named('lid_Holo.tif')] })
    expect([file.art.format, file.art.colorMode, file.art.channels.map(c => c.name)]).toEqual([
      'plates',
      'CMYK',
      ['Holo'],
    ])
    expect(await seen(file, 22, 4)).toEqual([0, 0, 0, 1, 1])
  })

  it('refuses two drawings alone, and images that are no plates', async () => {
    await expect(readArt(drawing(parts), { beside: [drawing(parts)] })).rejects.toMatchObject({
      code: 'files-together',
    })
    await expect(readArt(tiff(), { beside: [tiff()] })).rejects.toMatchObject({ code: 'plate-kind' })
  })
})

describe('a drawing as art', () => {
  it('is RGB with layers, hidden ones too, and live type as text without letters', async () => {
    const text =
      '<g id="White" display="none"><rect width="9" height="9" fill="#fff"/></g><g id="Words"><text x="5" y="10" font-size="3" font-family="Halden Sans">25 mm</text><circle cx="20" cy="10" r="3" fill="#00f"/></g>'
    const { art, documentPlane } = await readArt(drawing(svg(text)), { ppi: 254 }).then(file => ({
      art: file.art,
      documentPlane: (plane: number) => file.documentPlane(plane),
    }))
    expect([art.format, art.colorMode, art.width, art.height]).toEqual(['SVG', 'RGB', 300, 200])
    expect(art.layers.find(layer => layer.id === 'White')!.visible).toBe(false)
    const words = art.layers.find(layer => layer.kind === 'text')!
    expect(words.text!.value).toBe('25 mm')
    expect(words.text!.boxMm!.map(v => Number(v.toFixed(2)))).toEqual([5, 9.25, 12.5, 12.25])
    expect(art.findings.map(f => f.code)).toContain('svg-text')
    const at = async (plane: number, x: number, y: number) => (await documentPlane(plane)).data[y * 300 + x]
    expect([await at(0, 200, 100), await at(2, 200, 100), await at(0, 10, 10)]).toEqual([0, 255, 255])
  })
})
