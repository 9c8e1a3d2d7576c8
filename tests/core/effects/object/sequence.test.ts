import { encode } from 'fast-png'
import { describe, expect, it } from 'vitest'
import { heightsFrom, viewFrom } from '../../../../core/effects/object/grey.ts'
import { numbered, readSequence } from '../../../../core/effects/object/sequence.ts'

const picture = (width: number, height: number, value: number) =>
  encode({ width, height, channels: 1, depth: 8, data: new Uint8Array(width * height).fill(value) })

describe('numbered pictures', () => {
  it('come in the order of their numbers, not of their letters', () => {
    const names = ['lens-10.png', 'lens-2.png', 'lens-1.png']
    const { order } = numbered(names)
    expect(order.map(i => names[i])).toEqual(['lens-1.png', 'lens-2.png', 'lens-10.png'])
  })

  it('take the last number of a name, whatever stands behind it', () => {
    expect(numbered(['7mm_b02_final.png', '7mm_b01_final.png']).order).toEqual([1, 0])
  })

  it.each<[string, readonly string[], readonly string[]]>([
    ['one', ['v1.png', 'v2.png', 'v4.png', 'v5.png'], ['number 3 is missing']],
    ['several', ['v1.png', 'v2.png', 'v7.png'], ['numbers 3 to 6 are missing']],
    ['none: every tenth', ['v10.png', 'v20.png', 'v30.png'], []],
    ['none', ['v0.png', 'v1.png'], []],
  ])('missing are named: %s', (_, names, expected) => {
    expect(numbered(names).findings.map(one => one.message)).toEqual(expected)
  })

  it('are thinned out evenly beyond sixteen, ends kept', () => {
    const names = Array.from({ length: 46 }, (_, i) => `v${i}.png`)
    const { order, findings } = numbered(names)
    expect(order).toEqual(Array.from({ length: 16 }, (_, k) => 3 * k))
    expect(findings.map(one => one.code)).toEqual(['views-thinned-out'])
  })

  it.each([
    [['comet.png', 'v2.png'], /comet\.png.*has no number/],
    [['a1.png', 'b01.png'], /b01\.png.*same number as a1\.png/],
    [['v1.png'], /expected 2..1000 pictures, got 1/],
  ])('are refused: %j', (names, reason) => {
    expect(() => numbered(names)).toThrow(reason)
  })

  it('are read in order; another size is named', async () => {
    const { views, findings } = await readSequence([
      { name: 'v2.png', bytes: picture(4, 3, 255) },
      { name: 'v1.png', bytes: picture(4, 3, 0) },
      { name: 'v3.png', bytes: picture(8, 3, 255) },
    ])
    expect(views.map(view => view.data[0])).toEqual([0, 255, 255])
    expect(findings.map(({ code, where }) => [code, where])).toEqual([['view-size-differs', 'v3.png']])
  })

  it('that are broken are named', async () => {
    const good = picture(4, 3, 9)
    await expect(
      readSequence([
        { name: 'v1.png', bytes: good },
        { name: 'v2.png', bytes: good.subarray(0, 30) },
      ]),
    ).rejects.toThrow(/^v2\.png: .*cut off/)
  })
})

describe('a picture as light', () => {
  it('is linear: sRGB 188 of 255 is half the light', () => {
    // IEC 61966-2-1: decode(188 / 255) = 0.503; a byte holds it to 1/510.
    const { data } = viewFrom({ width: 1, height: 1, channels: 1, data: new Uint8Array([188]) })
    expect(Math.abs(data[0]! / 255 - 0.5029)).toBeLessThan(1 / 510)
  })

  it('weighs red, green and blue as luminance does (Rec. ITU-R BT.709-6, 3.2)', () => {
    const pixels = new Uint8Array([255, 0, 0, 0, 255, 0, 0, 0, 255])
    const { data } = viewFrom({ width: 3, height: 1, channels: 3, data: pixels })
    expect([...data]).toEqual([0.2126, 0.7152, 0.0722].map(weight => Math.round(255 * weight)))
  })

  it('lies over black where it is see-through, in 8 and 16 bits', () => {
    const grey = { width: 2, height: 1, channels: 2 }
    expect([...viewFrom({ ...grey, data: new Uint8Array([255, 0, 255, 51]) }).data]).toEqual([0, 51])
    expect([...viewFrom({ ...grey, data: new Uint16Array([65535, 0, 65535, 13107]) }).data]).toEqual([0, 51])
  })

  it('as heights keeps its values and its 16 bits', () => {
    const { data } = heightsFrom({ width: 2, height: 1, channels: 1, data: new Uint16Array([12345, 65535]) })
    expect([...data]).toEqual([12345, 65535])
  })

  it('is averaged down when it is larger than a view needs', () => {
    const data = Uint8Array.from({ length: 3000 * 2 }, (_, i) => (i % 3 === 0 ? 255 : 0))
    const view = viewFrom({ width: 3000, height: 2, channels: 1, data })
    expect([view.width, view.height]).toEqual([1000, 1])
    expect([...new Set(view.data)]).toEqual([85])
  })
})
