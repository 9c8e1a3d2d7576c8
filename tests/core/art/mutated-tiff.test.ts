import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import { processCount } from '../../../core/art/layer.ts'
import { openTiff } from '../../../core/art/tiff.ts'
import { memorySource } from '../../../core/base/source.ts'
import { cutOff } from '../../support/alone.ts'
import { surviveAll } from '../../support/survive.ts'
import { sixInks, type TiffForm, type TiffWish, tiffBytes } from '../../support/tiff-bytes.ts'

const memoryBudget = 32 * 2 ** 20

/** Whatever the reader knows: strips, tiles, planes, packed ones, both orders of bytes, large files, and a real one. */
const seeds: readonly Uint8Array[] = [
  ...(
    [
      [{ rowsPerStrip: 8 }, {}],
      [{ tile: 16 }, { bigEndian: true }],
      [{ planar: true, compression: 8, predictor: true }, {}],
      [{ compression: 32773, rowsPerStrip: 5 }, { big: true }],
      [
        { bits: 16, compression: 8, tile: 16 },
        { big: true, bigEndian: true },
      ],
    ] as readonly (readonly [Partial<TiffWish>, TiffForm])[]
  ).map(([more, form]) => tiffBytes([{ ...sixInks, ...more }], form)),
  tiffBytes([sixInks, { ...sixInks, width: 9, height: 9 }]),
  new Uint8Array(
    readFileSync(
      new URL('../../fixtures/art/TwelveMonkeys__depth_flower-separated-contig-08.tif', import.meta.url),
    ),
  ),
]

async function readWhole(bytes: Uint8Array): Promise<void> {
  const file = await openTiff(memorySource('art.tif', bytes), { memoryBudget })
  const { art } = file
  const count = processCount(art.colorMode) + art.channels.length
  for (let i = 0; i < count; i++) await file.documentPlane(i)
  for (const { id, channelIds } of art.layers) for (const one of channelIds) await file.layerPlane(id, one)
}

test('400 damaged TIFFs are read or refused by name, soon, within bounds, and reach for nothing', async () => {
  const tried = cutOff()
  const { read, refused, longest, grown } = await surviveAll(
    'art.tif',
    seeds,
    400,
    ['II*\0', 'MM\0*', '\x00\x01\x00\x04\xff\xff\xff\xff', '\x01\x11\x00\x04', 'http://localhost/'],
    readWhole,
  )
  console.log(
    `TIFF: ${read} read, refused: ${JSON.stringify(Object.fromEntries(refused))}, longest ${Math.round(longest)} ms`,
  )
  expect(tried()).toBe(0)
  expect(read).toBeGreaterThan(40)
  expect([...refused.values()].reduce((sum, one) => sum + one, 0)).toBeGreaterThan(100)
  expect(longest).toBeLessThan(10_000)
  expect(grown).toBeLessThan(1e9)
})
