import { readFileSync } from 'node:fs'
import { expect, test } from 'vitest'
import type { Surface } from '../../../core/art/composite.ts'
import { heldStrips, holdPictures } from '../../../core/art/held-picture.ts'
import { readArt } from '../../../core/art/read.ts'
import { memorySource } from '../../../core/base/source.ts'

const bytes = new Uint8Array(readFileSync('demo-assets/demo.psd'))

/** As a reader of rows takes them: no strip is asked for after the one that ends the picture. */
async function taken(strips: AsyncIterator<Surface>, height: number): Promise<Surface[]> {
  const out: Surface[] = []
  while (out.at(-1)?.box.bottom !== height) out.push((await strips.next()).value)
  return out
}

const same = (a: readonly Surface[], b: readonly Surface[]): boolean =>
  a.length === b.length &&
  a.every((strip, i) =>
    [strip.alpha, ...strip.planes].every((plane, p) =>
      Buffer.from(plane.buffer).equals(Buffer.from([b[i]!.alpha, ...b[i]!.planes][p]!.buffer)),
    ),
  )

test('layers of a held file are composited once, and the same ones in any order are the same picture', async () => {
  const file = await readArt(memorySource('demo.psd', bytes))
  const ids = file.art.layers.map(layer => layer.id)
  const { height } = file.art
  const plain = await taken(heldStrips(file, new Set(ids), { stripRows: 200 }), height)
  const letGo = holdPictures(file)
  const first = await taken(heldStrips(file, new Set(ids), { stripRows: 200 }), height)
  const second = await taken(heldStrips(file, new Set(ids.toReversed()), { stripRows: 64 }), height)
  expect(same(first, plain)).toBe(true)
  expect(second.every((strip, i) => strip.alpha === first[i]!.alpha)).toBe(true)
  const fewer = await taken(heldStrips(file, new Set(ids.slice(0, 3)), { stripRows: 200 }), height)
  expect(fewer[0]!.alpha).not.toBe(first[0]!.alpha)
  letGo()
  const after = await taken(heldStrips(file, new Set(ids), { stripRows: 200 }), height)
  expect(after[0]!.alpha).not.toBe(first[0]!.alpha)
})

test('a picture that was given up half way is not kept', async () => {
  const file = await readArt(memorySource('demo.psd', bytes))
  const ids = new Set(file.art.layers.map(layer => layer.id))
  holdPictures(file)
  const half = heldStrips(file, ids, { stripRows: 200 })
  await half.next()
  await half.return()
  const whole = await taken(heldStrips(file, ids, { stripRows: 200 }), file.art.height)
  expect(whole.length).toBe(Math.ceil(file.art.height / 200))
})
