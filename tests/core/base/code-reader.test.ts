import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import bwip from 'bwip-js/node'
import { describe, expect, test } from 'vitest'
import { type CodeReader, type GreyPicture, openCodeReader } from '../../../core/base/code-reader.ts'

const wasm = readFileSync(
  fileURLToPath(new URL('../../../node_modules/zxing-wasm/dist/reader/zxing_reader.wasm', import.meta.url)),
)
const reader: Promise<CodeReader> = openCodeReader(wasm)

/** Pixels a module, and clear modules round the symbol. */
const [scale, clear] = [4, 12]

/** A symbol as the generator makes it. */
function drawn(bcid: string, text: string, light = 255, dark = 0): GreyPicture {
  const [made] = bwip.raw({ bcid, text }) as unknown as [
    { sbs: readonly number[] } | { pixs: readonly number[]; pixx: number; pixy: number },
  ]
  const matrix = 'pixs' in made
  const bars = matrix ? [] : made.sbs.flatMap((run, i) => Array<number>(run).fill(i % 2 === 0 ? 1 : 0))
  const [columns, rows] = matrix ? [made.pixx, made.pixy] : [bars.length, 20]
  const at = (x: number, y: number) =>
    x < 0 || y < 0 || x >= columns || y >= rows ? 0 : matrix ? made.pixs[y * columns + x]! : bars[x]!
  const width = (columns + 2 * clear) * scale
  const height = (rows + 2 * clear) * scale
  const data = Uint8Array.from({ length: width * height }, (_, i) =>
    at(Math.floor((i % width) / scale) - clear, Math.floor(i / width / scale) - clear) === 1 ? dark : light,
  )
  return { width, height, data }
}

describe('the code reader', () => {
  // Numbers of the 952 range are kept for examples; the generator is the other witness.
  test.each([
    ['ean13', 'EAN-13', '9521234567899', '9521234567899', 95],
    ['upca', 'UPC-A', '012345678905', '012345678905', 95],
    ['ean8', 'EAN-8', '9521234', '95212340', 67],
    ['itf14', 'ITF', '19521234567896', '19521234567896', null],
    ['code128', 'Code 128', 'HOS-52-A', 'HOS-52-A', null],
  ] as const)('finds %s where it was drawn', async (bcid, kind, asked, text, modules) => {
    const [found, ...more] = await (await reader).read(drawn(bcid, asked))
    expect(more).toEqual([])
    expect(found).toMatchObject({ kind, text, reversed: false, modules: null })
    expect(found!.corners[0][0]).toBe(clear * scale)
    if (modules !== null) expect(found!.corners[1][0]).toBe((clear + modules) * scale)
  })

  test.each([
    ['datamatrix', 'Data Matrix', 14],
    ['qrcode', 'QR', 21],
  ] as const)('reads %s and tells its modules', async (bcid, kind, side) => {
    const [found] = await (await reader).read(drawn(bcid, 'HOS 952'))
    expect(found).toMatchObject({ kind, text: 'HOS 952' })
    expect(found!.modules).toMatchObject({ columns: side, rows: side })
    // The solid side of either symbol: its left column, or the left bar of the finder above.
    const { dark, columns } = found!.modules!
    for (let row = 0; row < 7; row++) expect(dark[row * columns]).toBe(1)
    expect(Math.abs(found!.corners[1][0] - (clear + side) * scale)).toBeLessThanOrEqual(1)
  })

  test('says of light bars that they are reversed', async () => {
    const [found] = await (await reader).read(drawn('code128', 'HOS-52-A', 0, 255))
    expect(found).toMatchObject({ text: 'HOS-52-A', reversed: true })
  })

  test('finds nothing in an empty picture', async () => {
    const data = new Uint8Array(90 * 60).fill(200)
    expect(await (await reader).read({ width: 90, height: 60, data })).toEqual([])
  })
})
