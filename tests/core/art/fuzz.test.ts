import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { processCount } from '../../../core/art/layer.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { memorySource } from '../../../core/base/source.ts'
import { artBytes, artNames, decodeEverything } from './files.ts'

/** Bytes that a damaged file may make the reader allocate for one plane; the largest real plane needs 1.4 MB. */
const memoryBudget = 16 * 2 ** 20
/** A whole file takes well below a second; a damaged one must not take longer by much, even on a busy machine. */
const longest = 20_000

/** Opens and decodes everything; anything but success or BadInput is a defect. */
async function survive(name: string, bytes: Uint8Array): Promise<'read' | 'refused'> {
  const began = performance.now()
  try {
    const { file } = await decodeEverything(memorySource(name, bytes), { memoryBudget })
    const count = processCount(file.art.colorMode) + file.art.channels.length
    for (let i = 0; i < count; i++) await file.documentPlane(i)
    return 'read'
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    expect(error.message.startsWith(`${name}: `)).toBe(true)
    expect(error.message).toMatch(/byte \d+|layer \d+|flattened picture|whole file/)
    return 'refused'
  } finally {
    expect(performance.now() - began).toBeLessThan(longest)
  }
}

describe('damaged files', () => {
  it('cut at 50 places each are refused or read, and never crash or hang', async () => {
    const outcomes = { read: 0, refused: 0 }
    const before = process.memoryUsage().rss
    for (const name of artNames) {
      const bytes = artBytes(name)
      for (let i = 0; i < 50; i++) {
        // Early cuts fall into headers and records, so half of the places crowd there.
        const place = i < 25 ? (i / 25) ** 3 : (i - 25) / 25
        outcomes[await survive(name, bytes.subarray(0, Math.floor(place * bytes.length)))]++
      }
    }
    console.log(`cut: ${outcomes.refused} refused, ${outcomes.read} read`)
    expect(outcomes.refused).toBeGreaterThan(artNames.length * 40)
    expect(process.memoryUsage().rss - before).toBeLessThan(1.5e9)
  })

  it('with bits flipped are refused or read, and never crash or hang', async () => {
    const outcomes = { read: 0, refused: 0 }
    const files = artNames.map(name => ({ name, bytes: artBytes(name) }))
    const place = fc.noBias(fc.nat(999_999)).map(n => n / 1e6)
    const change = fc.record({
      file: fc.noBias(fc.nat(files.length - 1)),
      // Half of them near the start, where the structure is.
      flips: fc.array(
        fc.record({
          at: fc.oneof(
            place,
            place.map(p => p / 20),
          ),
          bit: fc.nat(7),
        }),
        {
          minLength: 1,
          maxLength: 4,
        },
      ),
    })
    await fc.assert(
      fc.asyncProperty(change, async ({ file, flips }) => {
        const { name, bytes } = files[file]!
        const copy = bytes.slice()
        for (const { at, bit } of flips) copy[Math.floor(at * copy.length)]! ^= 1 << bit
        outcomes[await survive(name, copy)]++
      }),
      { seed: 20240611, numRuns: 2000 },
    )
    console.log(`flipped: ${outcomes.refused} refused, ${outcomes.read} read`)
    expect(outcomes.read).toBeGreaterThan(100)
    expect(outcomes.refused).toBeGreaterThan(100)
  })

  it('with lengths blown up in layer records are refused or read', async () => {
    const name = 'psd-tools__blend-modes_cmyk-blend-modes.psd'
    const bytes = artBytes(name)
    const signatures: number[] = []
    for (let i = 0; i + 4 < bytes.length; i++)
      if (bytes[i] === 0x38 && bytes[i + 1] === 0x42 && bytes[i + 2] === 0x49 && bytes[i + 3] === 0x4d)
        signatures.push(i)
    let tried = 0
    for (let k = 0; k < signatures.length; k += Math.ceil(signatures.length / 100))
      for (const value of [0x7fffffff, 0xffffffff]) {
        const copy = bytes.slice()
        new DataView(copy.buffer).setUint32(signatures[k]! + 8, value)
        await survive(name, copy)
        tried++
      }
    expect(tried).toBeGreaterThan(150)
  })
})
