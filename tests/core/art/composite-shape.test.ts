import { readdirSync, readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { composite } from '../../../core/art/composite.ts'
import { readArt } from '../../../core/art/read.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { memorySource } from '../../../core/base/source.ts'

const folder = 'tests/fixtures/art'
/** Larger pictures are left to other tests. */
const mostPixels = 1e6

it('a picture without colours is painted where the one with colours is, in every real file', async () => {
  let painted = 0
  for (const name of readdirSync(folder).filter(n => /\.ps[db]$/.test(n))) {
    const file = await readArt(memorySource(name, readFileSync(`${folder}/${name}`))).catch(refused)
    if (file === null || file.art.width * file.art.height > mostPixels) continue
    const whole = await composite(file)
    const shape = await composite(file, { colours: false })
    expect(shape.planes, name).toEqual([])
    expect(Buffer.compare(bytesOf(shape.alpha), bytesOf(whole.alpha)), name).toBe(0)
    if (whole.alpha.some(alpha => alpha > 0)) painted++
  }
  expect(painted).toBeGreaterThan(40)
}, 120_000)

const bytesOf = ({ buffer, byteOffset, byteLength }: Float32Array) =>
  Buffer.from(buffer as ArrayBuffer, byteOffset, byteLength)

function refused(error: unknown): null {
  if (error instanceof BadInput) return null
  throw error
}
