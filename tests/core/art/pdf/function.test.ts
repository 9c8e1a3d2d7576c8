import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openFunction } from '../../../../core/art/pdf/function.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { readingOf } from '../../../support/pdf-reading.ts'
import type { PdfText } from '../../../support/pdf-write.ts'

async function opened(write: (pdf: PdfText) => string) {
  const reading = await readingOf(pdf => `/F ${write(pdf)}`)
  reading.close()
  const f = openFunction(reading.context.lookup(reading.object('F')), 'page.pdf', 'shading 1')
  return { ...f, at: (...input: number[]) => Array.from(f.run(input, new Float64Array(f.outputs))) }
}
const calculator = (program: string, inputs: number, outputs: number, low = -1000, high = 1000) =>
  opened(pdf =>
    pdf.stream(
      `/FunctionType 4 /Domain [${'-1000 1000 '.repeat(inputs)}] /Range [${`${low} ${high} `.repeat(outputs)}]`,
      program,
    ),
  )

describe('a sampled function', () => {
  it('reads straight between its samples, and the first input runs fastest', async () => {
    // Worked by hand after ISO 32000-2, 7.10.2: samples 0, 255 / 51, 102 over (0..1) × (0..1).
    const f = await opened(pdf =>
      pdf.stream(
        '/FunctionType 0 /Domain [0 1 0 1] /Range [0 1] /Size [2 2] /BitsPerSample 8',
        Uint8Array.from([0, 255, 51, 102]),
      ),
    )
    expect(f.at(1, 0)[0]).toBeCloseTo(1, 6)
    expect(f.at(0, 1)[0]).toBeCloseTo(0.2, 6)
    // Bilinear in the middle: (0 + 1 + 0.2 + 0.4) / 4.
    expect(f.at(0.5, 0.5)[0]).toBeCloseTo(0.4, 6)
    expect(f.at(2, -3)[0]).toBeCloseTo(1, 6)
  })

  it('takes samples of 4 bits through Encode and Decode, as in the example of the standard', async () => {
    // ISO 32000-2, 7.10.2, example: −1..1 to 0..20 and −1..1 to 0..30, samples −1..1. Sample 10 of the first row is 15.
    const bytes = new Uint8Array(Math.ceil((21 * 31) / 2))
    bytes[5] = 0xf0
    const f = await opened(pdf =>
      pdf.stream(
        '/FunctionType 0 /Domain [-1 1 -1 1] /Range [-1 1] /Size [21 31] /BitsPerSample 4 /Encode [0 20 0 30] /Decode [-1 1]',
        bytes,
      ),
    )
    expect(f.at(0, -1)[0]).toBeCloseTo(1, 6)
    expect(f.at(-1, -1)[0]).toBeCloseTo(-1, 6)
    // Half way to the next sample, which is 0 (−1): 0.
    expect(f.at(0.05, -1)[0]).toBeCloseTo(0, 6)
  })

  it('reads samples of 12, 16 and 32 bits', async () => {
    for (const [bits, bytes] of [
      [12, [0x00, 0x08, 0x00]],
      [16, [0, 0, 0x80, 0]],
      [32, [0, 0, 0, 0, 0x80, 0, 0, 0]],
    ] as const) {
      const f = await opened(pdf =>
        pdf.stream(
          `/FunctionType 0 /Domain [0 1] /Range [0 1] /Size [2] /BitsPerSample ${bits}`,
          Uint8Array.from(bytes),
        ),
      )
      expect(f.at(1)[0], `${bits} bits`).toBeCloseTo(2 ** (bits - 1) / (2 ** bits - 1), 6)
    }
  })
})

describe('an exponential and a stitched function', () => {
  it('interpolates by a power', async () => {
    const f = await opened(() => '<< /FunctionType 2 /Domain [0 1] /C0 [0 1] /C1 [1 0.5] /N 2 >>')
    expect(f.at(0.5)).toEqual([0.25, 0.875])
    expect(f.at(7)).toEqual([1, 0.5])
  })

  it('joins parts, turning one of them round, as in the example of the standard', async () => {
    // ISO 32000-2, 7.10.4: a part that is read backwards by Encode [1 0].
    const part = '<< /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [1] /N 1 >>'
    const f = await opened(
      () =>
        `<< /FunctionType 3 /Domain [0 1] /Functions [${part} ${part}] /Bounds [0.4] /Encode [0 1 1 0] >>`,
    )
    expect(f.at(0.2)[0]).toBeCloseTo(0.5, 12)
    expect(f.at(0.4)[0]).toBeCloseTo(1, 12)
    expect(f.at(0.7)[0]).toBeCloseTo(0.5, 12)
    expect(f.at(1)[0]).toBeCloseTo(0, 12)
  })

  it('makes one of a list', async () => {
    const part = (to: number) => `<< /FunctionType 2 /Domain [0 1] /C0 [0] /C1 [${to}] /N 1 >>`
    const f = await opened(() => `[${part(1)} ${part(0.5)} ${part(0.25)}]`)
    expect(f.at(0.5)).toEqual([0.5, 0.25, 0.125])
  })
})

describe('a calculator function', () => {
  it('works the example of the standard', async () => {
    // ISO 32000-2, 7.10.5: the spot of two sines.
    const f = await calculator('{ 360 mul sin\n 2 div % half\n exch 360 mul sin 2 div add }', 2, 1)
    expect(f.at(0.25, 0.25)[0]).toBeCloseTo(1, 12)
    expect(f.at(0, 0.75)[0]).toBeCloseTo(-0.5, 12)
  })

  it.each([
    // Values of the PostScript Language Reference (third edition, 1999), chapter 8, by their operators.
    ['{ pop 3 4.5 add }', 7.5],
    ['{ pop 3 2 div }', 1.5],
    ['{ pop 3 2 idiv }', 1],
    ['{ pop -5 2 idiv }', -2],
    ['{ pop -5 3 mod }', -2],
    ['{ pop -4.5 abs }', 4.5],
    ['{ pop 3.2 ceiling }', 4],
    ['{ pop -4.8 ceiling }', -4],
    ['{ pop -4.8 floor }', -5],
    ['{ pop 6.5 round }', 7],
    ['{ pop -6.5 round }', -6],
    ['{ pop -4.8 truncate }', -4],
    ['{ pop 0 1 atan }', 0],
    ['{ pop -100 0 atan }', 270],
    ['{ pop 4 4 atan }', 45],
    ['{ pop 9 0.5 exp }', 3],
    ['{ pop -9 -1 exp 9 mul }', -1],
    ['{ pop 100 log }', 2],
    ['{ pop 7 3 bitshift }', 56],
    ['{ pop 142 -3 bitshift }', 17],
    ['{ pop 12 10 and }', 8],
    ['{ pop 52 not }', -53],
    ['{ pop 7 3 xor }', 4],
    ['{ pop true false or { 1 } { 2 } ifelse }', 1],
    ['{ pop 5 4 3 2 1 3 index exch pop 5 1 roll pop pop pop pop }', 4],
    ['{ pop 1 2 3 3 1 roll pop pop }', 3],
    ['{ pop 1 2 3 3 -1 roll exch pop exch pop }', 1],
    ['{ 1 gt { 5 } if 6 }', 6],
    ['{ pop 2 3 2 copy add 3 1 roll pop pop }', 5],
    ['{ cvi }', 2],
  ])('%s is %d', async (program, result) => {
    const f = await calculator(program, 1, 1)
    expect(f.at(2.9)[0]).toBeCloseTo(result, 9)
  })

  it.each([['3 add'], ['{ 3 add'], ['{ 3 jump }'], ['{ { 3 } }'], ['{ 1 if }'], ['{'.repeat(50)]])(
    'says what is wrong with %s',
    async program => {
      await expect(calculator(program, 1, 1)).rejects.toThrow(BadInput)
      await expect(calculator(program, 1, 1)).rejects.toThrow(/page\.pdf: shading 1: its function of type 4/)
    },
  )
})

describe('any function', () => {
  const number = fc.oneof(fc.double(), fc.constantFrom(0, 1, -1, Number.NaN, Number.POSITIVE_INFINITY))

  it('stays finite and within its range, whatever comes in and whatever its program is', async () => {
    const word = fc.constantFrom(
      ...'abs add and atan bitshift ceiling copy cos cvi cvr div dup eq exch exp false floor ge gt idiv index le ln log lt mod mul ne neg not or pop roll round sin sqrt sub true truncate xor 0 1 -3 2.5 1e9'.split(
        ' ',
      ),
    )
    await fc.assert(
      fc.asyncProperty(
        fc.array(word, { maxLength: 30 }),
        fc.array(number, { maxLength: 3 }),
        async (words, input) => {
          const f = await calculator(`{ ${words.join(' ')} }`, 2, 2, -0.25, 0.75)
          for (const value of f.at(...input)) {
            expect(value).toBeGreaterThanOrEqual(-0.25)
            expect(value).toBeLessThanOrEqual(0.75)
          }
        },
      ),
      { numRuns: 150 },
    )
  })

  it('of a power never leaves the numbers', async () => {
    await fc.assert(
      fc.asyncProperty(fc.double({ min: -5, max: 5, noNaN: true }), number, async (n, x) => {
        const f = await opened(
          () => `<< /FunctionType 2 /Domain [-2 2] /C0 [0] /C1 [1] /N ${n.toFixed(6)} >>`,
        )
        expect(Number.isFinite(f.at(x)[0])).toBe(true)
      }),
      { numRuns: 60 },
    )
  })

  it.each([
    ['<< /FunctionType 1 /Domain [0 1] >>', 'is of type 1'],
    ['<< /FunctionType 2 /N 1 >>', 'has no domain'],
    ['<< /FunctionType 2 /Domain [0 1] /C0 [0 1] /C1 [1] /N 1 >>', '2 and 1 ends'],
    ['<< /FunctionType 3 /Domain [0 1] /Functions [] /Bounds [] /Encode [] >>', 'has 0 parts'],
    ['[]', 'is a list of 0'],
    ['(text)', 'is missing'],
  ])('says what is wrong with %s', async (text, words) => {
    await expect(opened(() => text)).rejects.toThrow(words)
  })

  it('does not follow a function into itself', async () => {
    await expect(
      opened(pdf => {
        const own = '1 0 R'
        return pdf.add(`<< /FunctionType 3 /Domain [0 1] /Functions [${own}] /Bounds [] /Encode [0 1] >>`)
      }),
    ).rejects.toThrow(/more than 16 deep|missing/)
  })

  it('does not open the same thousand functions again and again', async () => {
    await expect(
      opened(pdf => {
        const own = Array.from({ length: 4000 }, () => '1 0 R').join(' ')
        const bounds = Array.from({ length: 3999 }, (_, i) => i / 4000).join(' ')
        return pdf.add(
          `<< /FunctionType 3 /Domain [0 1] /Functions [${own}] /Bounds [${bounds}] /Encode [${'0 1 '.repeat(4000)}] >>`,
        )
      }),
    ).rejects.toThrow(/more than 16 deep|too many/)
  })

  it('asks for no more samples than it takes', async () => {
    await expect(
      opened(pdf =>
        pdf.stream(
          '/FunctionType 0 /Domain [0 1 0 1 0 1] /Range [0 1] /Size [4000 4000 4000] /BitsPerSample 8',
          new Uint8Array(8),
        ),
      ),
    ).rejects.toThrow(/64000000000 samples/)
  })
})
