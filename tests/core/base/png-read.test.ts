import { deflateSync } from 'node:zlib'
import { encode } from 'fast-png'
import { describe, expect, it } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import { readPng } from '../../../core/base/png-read.ts'

const pixels = Uint8Array.from({ length: 5 * 4 * 3 }, (_, i) => i * 4)
const good = encode({ width: 5, height: 4, channels: 3, depth: 8, data: pixels })

/** The same file with some bytes of its head changed. */
const withHead = (changes: Readonly<Record<number, number>>) => {
  const out = good.slice()
  for (const [at, value] of Object.entries(changes)) out[Number(at)] = value
  return out
}

/** A file whose packed pixels are these. */
function packing(raw: Uint8Array): Uint8Array {
  const data = deflateSync(raw)
  const chunk = (kind: string, body: Uint8Array) => {
    const out = new Uint8Array(12 + body.length)
    new DataView(out.buffer).setUint32(0, body.length)
    out.set(new TextEncoder().encode(kind), 4)
    out.set(body, 8)
    return out
  }
  const parts = [good.subarray(0, 33), chunk('IDAT', data), chunk('IEND', new Uint8Array(0))]
  return Uint8Array.from(parts.flatMap(part => [...part]))
}

describe('readPng', () => {
  it.each([1, 2, 3, 4])('reads %i channels of 8 and 16 bits', async channels => {
    const values = Array.from({ length: 7 * 3 * channels }, (_, i) => i * 977)
    // A typed array keeps the low bits.
    for (const data of [Uint8Array.from(values), Uint16Array.from(values)]) {
      const bytes = encode({
        width: 7,
        height: 3,
        channels,
        depth: data instanceof Uint8Array ? 8 : 16,
        data,
      })
      expect(await readPng(bytes, 'a.png')).toEqual({ width: 7, height: 3, channels, data })
    }
  })

  it.each<[string, Uint8Array, RegExp]>([
    ['nothing', new Uint8Array(0), /byte 0: is not a PNG picture/],
    ['cut off', good.subarray(0, good.length - 20), /cut off/],
    ['no width', withHead({ 19: 0 }), /has no pixels/],
    ['far too wide', withHead({ 16: 0x7f }), /2130706437 × 4 pixels are too many/],
    ['a palette', withHead({ 25: 3 }), /from a palette/],
    ['4 bits', withHead({ 24: 4 }), /4 bits/],
    ['less than it says', withHead({ 23: 9 }), /end early, at byte 64 of 144/],
    ['more than it says', withHead({ 23: 2 }), /are more than the head says/],
    ['a bomb', packing(new Uint8Array(200e6)), /are more than the head says/],
    ['not packed at all', withHead({ 41: 0, 42: 0, 43: 0, 44: 0 }), /cannot be unpacked/],
  ])('refuses %s by name', async (_, bytes, reason) => {
    const started = performance.now()
    const error = await readPng(bytes, 'ring 3.png').then(
      () => null,
      (thrown: unknown) => thrown,
    )
    expect(error).toBeInstanceOf(BadInput)
    expect((error as BadInput).message).toMatch(reason)
    expect((error as BadInput).message).toMatch(/^ring 3\.png: /)
    // A hundredth of that is enough on a quiet machine; unpacking the bomb to its end takes longer on any.
    expect(performance.now() - started).toBeLessThan(3000)
  })
})
