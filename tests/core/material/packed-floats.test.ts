import { expect, test } from 'vitest'
import { packedFloats } from '../../../core/material/packed-floats.ts'

const bitsOf = (data: Float32Array) => [...new Int32Array(data.slice().buffer)]

test('floats of bytes take a byte each and come back bit by bit, any run of them', () => {
  const data = Float32Array.from({ length: 5000 }, (_, i) => (0.7 * ((i * i) % 256)) / 255)
  const packed = packedFloats(data)
  expect(packed.bytes).toBeLessThan(data.byteLength / 3.3)
  for (const [from, to] of [
    [0, 5000],
    [17, 18],
    [4000, 5000],
    [9, 9],
  ] as const)
    expect(bitsOf(packed.floats(from, to))).toEqual(bitsOf(data.subarray(from, to)))
})

test('zeros of either sign and what is no number are values of their own', () => {
  const data = Float32Array.of(0, -0, Number.NaN, Number.POSITIVE_INFINITY, 1e-45, -1e-45, 0)
  expect(bitsOf(packedFloats(data).floats(0, 7))).toEqual(bitsOf(data))
})

test('256 values are bytes, one more stays as it is', () => {
  const of = (count: number) => Float32Array.from({ length: 4 * count }, (_, i) => Math.sqrt(i % count))
  expect(packedFloats(of(256)).bytes).toBe(1024 + 1024)
  expect(packedFloats(of(257)).bytes).toBe(16 * 257)
  for (const data of [of(256), of(257)])
    expect(bitsOf(packedFloats(data).floats(0, data.length))).toEqual(bitsOf(data))
})
