import { deepStrictEqual } from 'node:assert'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decodeWire, encodeWire } from '../../../core/host/wire.ts'

// The law: what is decoded is what was encoded. The message layout is our own, described in wire.ts.

const number = fc.oneof(fc.double(), fc.integer(), fc.constantFrom(Number.NaN, -0, 0, 1 / 0, -1 / 0))
const plane = fc.oneof(
  fc.uint8Array(),
  fc.int8Array(),
  fc.uint16Array(),
  fc.int16Array(),
  fc.uint32Array(),
  fc.int32Array(),
  fc.float32Array(),
  fc.float64Array(),
)
const value = fc.letrec(tie => ({
  any: fc.oneof(
    { depthSize: 'small' },
    fc.constant(null),
    fc.boolean(),
    fc.string({ unit: 'binary' }),
    number,
    plane,
    fc.array(tie('any')),
    fc.dictionary(fc.oneof(fc.string(), fc.constantFrom('$', '__proto__', 'constructor')), tie('any'), {
      noNullPrototype: true,
    }),
    fc.array(fc.tuple(fc.string(), tie('any'))).map(entries => new Map(entries)),
  ),
})).any

describe('a reply on the wire', () => {
  it('comes back as it went in', () => {
    fc.assert(
      fc.property(value, one => {
        // Node's own comparison, because Vitest's reads a property called `constructor` as the type.
        deepStrictEqual(decodeWire(encodeWire(one)), one)
      }),
      { numRuns: 500 },
    )
  })

  it('comes back from the middle of another buffer, at any alignment', () => {
    const message = encodeWire({ a: new Float64Array([1.5, -2.5]) })
    for (let shift = 0; shift < 8; shift++) {
      const held = new Uint8Array(message.length + 8)
      held.set(message, shift)
      const back = decodeWire(held.subarray(shift, shift + message.length))
      expect(back).toStrictEqual({ a: new Float64Array([1.5, -2.5]) })
    }
  })

  it('sends a plane named twice once', () => {
    const shared = new Uint8Array(100_000).fill(7)
    expect(encodeWire({ a: shared, b: shared }).length).toBeLessThan(100_200)
    const part = shared.subarray(500, 600)
    expect(decodeWire(encodeWire([part]))).toStrictEqual([part.slice()])
  })

  it('copies no plane when read: the arrays are views into the message', () => {
    const message = encodeWire(new Uint16Array(1000))
    const back = decodeWire(message) as Uint16Array
    expect(back.buffer).toBe(message.buffer)
  })

  it('leaves undefined properties out, as JSON does', () => {
    expect(decodeWire(encodeWire({ a: 1, b: undefined }))).toStrictEqual({ a: 1 })
  })

  it.each([
    ['a function', () => 1, 'a reply cannot hold a function'],
    ['a bigint', 1n, 'a reply cannot hold a bigint'],
    ['a class of its own', new Date(0), 'a reply cannot hold a Date'],
  ])('refuses %s by name', (_, one, message) => {
    expect(() => encodeWire({ one })).toThrow(message)
  })
})

describe('a damaged reply', () => {
  const message = encodeWire({ plane: new Uint8Array(64), text: 'comet' })

  it('is refused when cut anywhere', () => {
    for (let length = 0; length < message.length; length++)
      expect(() => decodeWire(message.slice(0, length)), `${length} bytes`).toThrow()
  })

  it.each([
    ['another start', new TextEncoder().encode('<!doctype html>'), 'expected RLW1'],
    ['a block past the end', tampered('["u8",0,64]', '["u8",8,64]'), 'cut off inside its planes'],
    ['a block off its alignment', tampered('["u8",0,64]', '["u8",4,16]'), 'cut off inside its planes'],
    ['an unknown kind', tampered('["u8",0,64]', '["u9",0,64]'), 'no value of kind "u9"'],
  ])('is refused with %s', (_, bytes, reason) => {
    expect(() => decodeWire(bytes)).toThrow(reason)
  })

  function tampered(from: string, to: string): Uint8Array<ArrayBuffer> {
    const text = Buffer.from(message).toString('latin1')
    expect(text).toContain(from)
    return new Uint8Array(Buffer.from(text.replace(from, to), 'latin1'))
  }
})
